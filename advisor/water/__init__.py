"""Water that behaves: a store in layers, the house's pipes as a network, the busy hour step by step.

Models only: plain numbers in, small records out. `from_advice.py` alone knows the fact book. Nothing here judges:
the rules still compare the facts that `checks/` makes.
"""
