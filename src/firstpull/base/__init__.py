"""What every room stands on: errors, quantities, money, the clock, stable draws. Knows nothing of engines."""
