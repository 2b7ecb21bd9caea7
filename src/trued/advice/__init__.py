"""What to do next and when to stop: statuses of all features, the next action of each, when to look again, what
stays closed.
"""
