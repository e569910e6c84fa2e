"""What is typed in the yarn room."""
