"""What may be done with the machine as it stands: its state, the interlocks, cautions, and the two doors out.

Pure and fail-closed: what is not known is treated as unsafe, and every refusal says what clears it. Facts are never
refused, only advice, instructions and release.
"""
