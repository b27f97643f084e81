"""The trade's numbers: pure functions and small tables, each with its source above it.

Everything here is a cross-check to stand beside the maker's figure; the maker's figure, the manual
and licensed practice come first.
"""
