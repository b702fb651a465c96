"""Programmable logic: fuse files of JESD3, fuse maps of the devices, and logic written down, fitted into them."""
