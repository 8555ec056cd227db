"""What is tested of the working page and the whole page of a person."""
