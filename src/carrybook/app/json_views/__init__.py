"""Results as JSON: stable keys that carry their units, SI unless the key says otherwise.

Sides are right positive. Numbers are given as computed; nothing is rounded.
"""
