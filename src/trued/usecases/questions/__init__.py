"""What must be asked before something is kept, or of what is kept. May import shop."""
