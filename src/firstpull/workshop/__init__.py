"""The record of the jobs.

Events, what they fold to, people, money, parts, and the port behind which they are kept.
"""
