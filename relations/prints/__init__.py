"""The print that every sitter is owed, from owed to acknowledged."""
