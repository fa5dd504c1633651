"""From a job's record to the sheets of the paper room, one file a stage of work. What nobody recorded stays None."""
