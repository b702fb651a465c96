"""The catalogue: one file a part function, in folders by kind; each binds one or several ``Entry`` values.

A file is found by standing in a folder of this package: the names ``entry`` or ``entries`` are picked up.
"""
