"""Part of the catalogue; see chips/__init__.py."""
