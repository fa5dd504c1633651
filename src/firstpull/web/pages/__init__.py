"""One page file a stage: parse, call the bench, render."""
