"""What the commands print: use cases' values as plain lines. No command imports another; they share these."""
