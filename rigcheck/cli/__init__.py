"""The command line: arguments, files in and out, exit codes."""
