"""From the hand to a number: acceptance of what was read against what is asked, with the reading's own spread."""
