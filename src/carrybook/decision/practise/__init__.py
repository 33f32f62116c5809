"""Practise: where strokes leak, a session built there, balls scored, and a test that repeats.

`demand` and `levels` say what is faced and against whom; `leak` what that costs; `session` makes
the plan, `load` looks at the weeks before it; `scoring` and `standing` judge what was struck.
"""
