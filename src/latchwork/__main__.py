"""``python -m latchwork``: the same as the command ``latchwork``."""

from latchwork.cli.main import main

main()
