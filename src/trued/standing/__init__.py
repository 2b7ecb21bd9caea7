"""What is known of each feature: a pure function of the history and the time. Never imports `advice`."""
