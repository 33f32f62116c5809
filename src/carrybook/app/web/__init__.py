"""The page: the same services as the command line, on a phone or a laptop, from this machine.

One room is one file in `rooms`, one template and one service call. `asked` turns a request into
plain values and an answer into a response; `guard`, `tokens` and `door` keep strangers out; `shelf`
keeps what was typed and sent.
"""
