"""Is my saw true, can it make this job, and did the parts come out?"""

__version__ = "0.1.0"
