"""Every kind of guide as one function: a laid-out page in, the shapes of one layer out.

A guide helps to draw and does not print. `kinds` lists those that come with guidekit.
"""
