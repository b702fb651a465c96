"""The commands, one file each; ``command`` in ``NAME.py`` is ``latchwork NAME``. Imported only when it is called."""
