"""The virtual engine: vectorised physics, one physical system a file, and the words for what it takes and gives.

`vocabulary` says which parameters, observables, sizes and arrangements exist. The physics files hold pure
functions over arrays. `wiring` says which quantity follows from which. `predict` is the way in.
Knows nothing of faults' names, pages or databases.
"""
