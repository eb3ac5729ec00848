"""What a run has found so far: a line of JSON for each try, so that a run that was stopped goes on."""
import json
import os


class State:
    """Records by name of one file; those of another `mark` (another program, other sources) are dropped. A line that was cut off
    when the run was stopped is dropped, too."""

    def __init__(self, path, mark):
        self.path, self.mark, self.records = path, mark, {}
        path.parent.mkdir(parents=True, exist_ok=True)
        for line in path.read_text().splitlines() if path.exists() else ():
            try:
                record = json.loads(line)
            except ValueError:
                continue
            if record["mark"] == mark:
                self.records[record["name"]] = record
        fresh = path.with_suffix(".new")
        fresh.write_text("".join(json.dumps(record) + "\n" for record in self.records.values()))
        os.replace(fresh, path)

    def add(self, name, record):
        record = {"mark": self.mark, "name": name, **record}
        self.records[name] = record
        with open(self.path, "a") as out:
            out.write(json.dumps(record) + "\n")
        return record
