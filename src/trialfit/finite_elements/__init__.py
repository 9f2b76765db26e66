"""Finite elements for cases without a closed formula: small frames and odd cross-sections. Numbers in, numbers out."""
