"""Django's SQLite backend on SQLCipher: the whole register is one sealed file."""
