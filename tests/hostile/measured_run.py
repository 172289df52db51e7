"""Run a command in a small process of its own, so that its memory is its own.

    python measured_run.py FOLDER COMMAND...

writes what the command prints into `stdout` and `stderr` in the folder, and prints its exit status and the most
memory in MB as JSON. On Linux a process begins with the peak of the one that started it; a
test run is large, this one is not.
"""

import json
import os
import resource
import subprocess
import sys
from pathlib import Path

# Against what never ends.
MOST_SECONDS = 120

if __name__ == "__main__":
    folder, command = Path(sys.argv[1]), sys.argv[2:]
    resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS, MOST_SECONDS))
    with (folder / "stdout").open("wb") as out, (folder / "stderr").open("wb") as err:
        process = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=out, stderr=err)
        _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    print(json.dumps([process.returncode, used.ru_maxrss / 1024]))
