"""Questions about an assessment: why, how sure, and what if something were wrong."""
