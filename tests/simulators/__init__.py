"""Simulated truth: spectra with known colour, phones that photograph them, strands that shade them.

Everything here is simulation. What comes from outside (illuminants, observers, chart reflectances, test
colour samples, one camera's measured sensitivities) is read from colour-science; the rest is our own
construction and says so where it stands.
"""
