"""How a job runs, `python -m pipeline.steps …`: as `job.py` has it, by a process that stands by where there is one."""

import signal
import sys

from pipeline.work.standby import done_by_standby

if __name__ == "__main__":
    signal.signal(signal.SIGINT, signal.SIG_DFL)  # whoever stops a run needs no trace of where each job was
    status = done_by_standby(sys.argv[1:])
    if status is None:
        from pipeline.steps.job import do_job

        do_job(sys.argv[1:])
    sys.exit(status)
