"""The microprogram language: grammar, syntax tree, checks, expansion, lowering onto the wiring, errors."""
