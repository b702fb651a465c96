"""When levels arrive: arcs of chips with the figures of their sheets, loads of nets, longest and shortest ways.

``senses``: which pin of a part moves which, and which way, from the behaviour. ``times``: how long that takes, from
the figures. ``loads``: what hangs on a net. ``activity``, ``cofactors`` and ``trying``: which arcs can matter in which
lane.
``graph``: all arcs of a netlist in a corner. ``runs``: the latest and earliest arrivals after an edge of the clock.
``checks`` and ``gates``: what chips and gated clocks ask for. ``clocked``: all of it as limits on the period. ``plain``
and ``step_lanes``: the lanes; ``flow``: what can have changed with the edge that begins each.
"""
