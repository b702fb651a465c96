"""The catalogue told to a person: lists, one part in full, function tables, near replacements, pages."""
