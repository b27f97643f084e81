"""From a model file to the model, with a plain message for everything that is wrong with it."""

from sequencer.reading.model_file import Reading, read_file, read_text

__all__ = ["Reading", "read_file", "read_text"]
