"""Features that can be adjusted, followed through runs, moves and events by a Kalman filter over value and gain."""
