"""What is tested of the people and the door to them."""
