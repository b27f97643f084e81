"""Drawings as plain numbers: where boxes, lines and words stand, in mm from the top left."""
