"""`python -m notchbook`, for where the command is not on the path."""

from notchbook.cli import main

main(prog_name="notchbook")
