"""One function for each thing a person can ask for; command line and page call nothing else.

Frozen values go in and come out. Heavy rooms are imported by the service that needs them, so that
asking for help stays quick.
"""
