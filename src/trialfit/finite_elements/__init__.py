"""What no closed form answers, by finite elements: small frames and odd cross-sections. Numbers in, numbers out."""
