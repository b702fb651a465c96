"""Many machines at once, each with a fault of its own: a bit of every row is one machine, a lane.

``machines`` is what others use. A machine with a fault is the edited netlist of ``netlist.edits``: ``differences``
finds where its pins lie on other nets, whatever kind of edit it was; ``packing`` says which machines share a block.
``template``, ``instances`` and ``levels`` write one graph of bits for a block, with masks of lanes where its machines
differ, and ``block_graph`` what is kept; ``schedule`` and ``block_code`` make lists of operations on rows of it,
``interpreter`` carries them out. ``building`` puts all that together; a ``block`` is what then runs. ``alone`` is for
machines that are no lanes.
"""
