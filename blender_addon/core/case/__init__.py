"""The tube round the master, and what it has to hold."""
