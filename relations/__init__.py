"""Relations: a register of sitters, their permissions and their prints."""
