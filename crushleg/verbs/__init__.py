"""One module per verb: its options and its run; they read, compute and show, without arithmetic."""
