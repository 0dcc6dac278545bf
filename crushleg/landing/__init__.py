"""FORCE -> STOP: energy balance, first leg, tip-over, settling."""
