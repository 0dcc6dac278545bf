"""The test team: predict, read records, correlate, inspect."""
