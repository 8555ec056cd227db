"""What is tested of languages, scripts, digits and days."""
