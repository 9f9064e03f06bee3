"""Due dates as text, table and calendar."""
