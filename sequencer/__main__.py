"""Run the commands with `python -m sequencer`."""

from sequencer.commands import main

if __name__ == "__main__":
    main()
