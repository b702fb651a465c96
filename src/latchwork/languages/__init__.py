"""The two text languages: microprogram and assembly."""
