"""What is tested of wordings, forms and the weighing."""
