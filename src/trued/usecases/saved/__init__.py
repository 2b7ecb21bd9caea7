"""A plan that is kept: show it, mark its tickets, inspect its parts. May import plan, changes, questions, shop."""
