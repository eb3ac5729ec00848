"""What a terminal shows of a run, and that a pipe stays silent."""
import fcntl
import os
import pty
import re
import struct
import subprocess
import termios
import unittest

from support import PROGRAM, InFolder

JOB = "".join(f'[[fitting]]\ntag = "F-{i}"\nkind = "elbow"\ndiameter = "{200 + 10 * i}mm"\nangle = 90\npieces = 3\n'
              'thickness = "25mm"\n' for i in range(8))
BAD = '[[fitting]]\ntag = "B"\nkind = "tee"\ndiameter = "300mm"\nlength = "100mm"\nbranch_diameter = "200mm"\n' \
      'branch_length = "400mm"\nthickness = "25mm"\n'


class OnTerminal(InFolder):
    def on_terminal(self, *arguments, columns=80, both=False):
        """What a terminal as wide as that receives on standard error, or on both streams."""
        master, slave = pty.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
        process = subprocess.Popen([PROGRAM, *arguments], cwd=self.folder, stdout=slave if both else subprocess.DEVNULL,
                                   stderr=slave)
        os.close(slave)
        received = b""
        while True:
            try:
                block = os.read(master, 65536)
            except OSError:  # the other end is closed
                break
            if not block:
                break
            received += block
        os.close(master)
        return process.wait(), received.decode().replace("\r\n", "\n")

    def test_one_line_with_rate_and_time_left(self):
        self.write("job.toml", JOB)
        code, text = self.on_terminal("make", "job.toml", "--jobs", "1", "--no-pages")
        self.assertEqual(code, 0, text)
        self.assertNotIn("\n", text)  # all of it in one line, written over
        self.assertTrue(text.endswith("\r\x1b[K"), text)
        shown = text.split("\r\x1b[K")
        self.assertEqual((shown[0], shown[-1]), ("", ""))
        counts = []
        for line in shown[1:-1]:
            match = re.fullmatch(r"(\d+) of 8 fittings, [\d.]+ a (?:second|minute), \d+ (?:s|min) left", line)
            self.assertTrue(match, line)
            counts.append(int(match.group(1)))
        self.assertEqual(counts[0], 1)
        self.assertEqual(counts, sorted(set(counts)))

    def test_narrow_terminal(self):
        self.write("job.toml", JOB)
        _, text = self.on_terminal("make", "job.toml", "--no-pages", columns=20)
        self.assertTrue(text)
        for line in text.split("\r\x1b[K"):
            self.assertLess(len(line), 20)

    def test_a_line_per_fitting_stands_alone(self):
        self.write("job.toml", JOB + BAD)
        code, text = self.on_terminal("make", "job.toml", "--verbose", "--no-pages", both=True)
        self.assertEqual(code, 2, text)
        lines = [re.sub(r"^.*\r\x1b\[K", "", line) for line in text.split("\n")]
        for i in range(8):
            self.assertIn(f"F-{i}: models-out/F-{i}", lines)
        self.assertIn("B: not made", lines)
        self.assertTrue(any(line.startswith("linerwright: ") and "B" in line for line in lines))

    def test_silent_in_a_pipe(self):
        self.write("job.toml", JOB)
        result = self.made("make", "job.toml", "--no-pages")
        self.assertEqual(result.stderr, "")
        self.assertNotIn("\r", result.stdout)
        self.assertNotIn(" left", result.stdout)


if __name__ == "__main__":
    unittest.main()
