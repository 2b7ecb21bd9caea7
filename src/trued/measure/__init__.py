"""Measuring: estimates with their uncertainty, instrument errors, propagation, the decision rule."""
