"""Running a machine: run(), and the machine object for a person's own tests."""
