"""What went out on a trip and what came home."""
