"""What is about to become public, in real repositories."""
