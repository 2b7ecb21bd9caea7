"""How every answer is worded: decisions and chances, sides, orders, status, plan and tickets, for all surfaces at once.

A check's own text stays in the check, a refusal where it is raised. Surfaces, use cases and sheets may import it; it
knows what is computed, and nothing of books, commands or pages.
"""
