"""Order the assembly of a mechanical unit, find the traps, and print the work package."""

__version__ = "0.1.0"
