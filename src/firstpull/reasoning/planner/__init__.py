"""Looks ahead over checks, repairs and access moves on an abstract troubleshooting problem."""
