"""Reading a job file into a `Job`. Nothing of the job imports it."""
