"""Pure: today's plan, from the minutes there are."""
