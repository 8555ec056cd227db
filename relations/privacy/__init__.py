"""Users and roles, the access log, sealed fields and files, keys and unlocking."""
