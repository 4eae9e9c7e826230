"""A whole board: its list, the plan of the work on it, the paper, and the record of what was found
and done.
"""
