"""The packet for a tablet: one file that works offline, from which `sequencer log` can read."""
