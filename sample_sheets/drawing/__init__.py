"""Draws the sample datasheets. Every maker, device and place in them is invented."""
