"""What is tested of who told us of whom."""
