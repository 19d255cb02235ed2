"""Rules: cells whose value is findings, a file a family."""
