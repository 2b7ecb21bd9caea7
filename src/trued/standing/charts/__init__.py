"""The history of one feature as a chart, and the signals of control charts in it."""
