"""Codes of roles and groups, which stand for people everywhere in a handbook."""

import re

CODE = re.compile(r"[A-Z]{1,6}-?[0-9]{1,4}[a-z]?")
"""What a code of a role or group is: common practice, no source."""
