"""Drawings and plots as SVG: plain data in, text out."""
