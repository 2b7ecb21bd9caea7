"""What is answered, worked into the one value that terminal and page write."""
