"""Frozen page models, one file a page: the faces draw them and compute nothing."""
