"""Formulas and tables of the trade: SI units in, SI units out, sources beside them.

Nothing here knows of builds, facts or spreads: every module can be used alone, as in
`from trialfit.handbook import gearing`. README.md gives the reading order.
"""
