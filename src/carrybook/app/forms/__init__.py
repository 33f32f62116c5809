"""What people type, checked once and turned into plain frozen values in SI.

Every quantity is typed with its unit. What is wrong is said in one line that names it.
"""
