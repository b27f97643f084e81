"""The model of an assembly: frozen dataclasses and quantities, no file format and no disk."""
