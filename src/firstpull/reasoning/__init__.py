"""Population, belief, prediction and the planner that decides the next step."""
