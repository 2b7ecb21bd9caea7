"""What is known now and what to do next. May import every wing but runs."""
