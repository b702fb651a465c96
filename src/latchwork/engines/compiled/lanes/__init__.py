"""Many machines at once, each with a fault of its own: a bit of every row is one machine, a lane.

``machines`` is what others use. A machine with a fault is the edited netlist of ``netlist.edits``: ``differences``
finds where its pins lie on other nets, whatever kind of edit it was; ``blocks`` puts lanes together; ``wires`` and
``levels`` write one graph of bits for a block, with masks of lanes where its machines differ; ``schedule`` makes a
list of operations on rows of it, which ``interpreter`` carries out.
"""
