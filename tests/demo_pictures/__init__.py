"""Draws the demo client's photographs: one head over fifteen weeks, with known true colours."""
