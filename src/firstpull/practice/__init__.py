"""A machine with a hidden fault to train on, and the proving ground that scores strategies on many of them."""
