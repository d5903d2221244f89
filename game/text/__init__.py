"""Every sentence that a person reads."""
