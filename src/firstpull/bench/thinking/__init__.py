"""Reckoning in processes of its own, so that no page waits for the planner."""
