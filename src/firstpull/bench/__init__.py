"""The only holder of a live job: use cases cut by stage of work (take in, find, prove, repair, release, hand back).

Every face calls this room and no other. `case` reads what was typed, `session` holds one machine's belief and state,
`answer` puts what is known into plain values.
"""
