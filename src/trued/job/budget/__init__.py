"""The error budget: every size that a fit rests on, as it will really come out."""
