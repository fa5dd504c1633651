"""The bench in the browser: one page file a stage, each parsing a form, calling the bench and rendering a template."""
