"""What the rehearsal needs to fill itself, and the command that starts it."""
