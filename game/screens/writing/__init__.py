"""Music that is on paper: entered into the program, or practised from the paper itself."""
