"""Independent tools, each from a model to a report. They never import each other."""
