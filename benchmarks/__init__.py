"""Figures of speed and quality, each beside an anchor taken in the same run. `make bench` prints them all."""
