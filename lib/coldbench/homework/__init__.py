"""Homework: personal numbers, questions, answers that are understood at once, marks with reasons.

What a student's notebook uses is here: ``student("…")`` once, then ``answer("05.3", …)`` per question.
"""

from coldbench.homework.answers import answer, student

__all__ = ["answer", "student"]
