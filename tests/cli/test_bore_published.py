"""The bore report against published worked examples and tables, and recomputed by NumPy: friction, sound, heat, offset tapers."""
import csv
import io
import json
import math
import unittest

import numpy as np

from support import InFolder

IN_WG = 249.08891  # Pa, at 4 C
DENSITY, VISCOSITY = 1.204, 1.506e-5


def friction(diameter, flow, roughness):
    """Pa per metre in standard air, arrays allowed: Colebrook by iteration, Darcy and Weisbach. Metres."""
    velocity = flow / (np.pi / 4 * diameter**2)
    reynolds = velocity * diameter / VISCOSITY
    x = np.full_like(np.asarray(diameter, float), 7.0)
    for _ in range(100):
        x = -2 * np.log10(roughness / diameter / 3.7 + 2.51 * x / reynolds)
    return DENSITY * velocity**2 / 2 / diameter / x**2


def job(units, fittings, air="", liner=None):
    liner = liner or ("1in" if units == "in" else "25mm")
    text = f'[job]\nunits = "{units}"\n[liner]\nthickness = "{liner}"\n[air]\n{air}\n'
    for tag, (kind, keys) in fittings.items():
        text += f'[[fitting]]\ntag = "{tag}"\nkind = "{kind}"\n' + "".join(f"{key} = {value}\n" for key, value in keys.items())
    return text


class Published(InFolder):
    def report(self, text, *arguments):
        self.write("job.toml", text)
        data = json.loads(self.made("bore", "job.toml", "--json", *arguments).stdout)
        return {(row["tag"], row["passage"]): row for row in data["rows"]}, data

    def table(self, text, *arguments):
        self.write("job.toml", text)
        return list(csv.DictReader(io.StringIO(self.made("bore", "job.toml", "--csv", *arguments).stdout)))

    def test_worked_duct_run(self):
        """SMACNA, HVAC Systems - Duct Design, page 7.20, supply run of round duct in 30 ft lengths, read from its chart:
        QR 2000 cfm in 14 in: 1880 fpm, p_v 0.22, 0.32 in w.g. per 100 ft, 0.096 in all; PQ 3000 cfm in 16 in: 2150 fpm,
        0.29, 0.36, 0.108; OP 4000 cfm in 18 in: 2250 fpm, 0.32, 0.102 (the section's 0.124 less its fittings)."""
        printed = {"QR": (14, 2000, 1880, 0.22, 0.32, 0.096), "PQ": (16, 3000, 2150, 0.29, 0.36, 0.108),
                   "OP": (18, 4000, 2250, 0.32, 0.34, 0.102)}
        rows = self.table(job("in", {tag: ("straight", {"diameter": p[0], "length": 360, "flow": p[1]})
                                     for tag, p in printed.items()}))
        for row in rows:
            _, _, velocity, pressure, per_100, whole = printed[row["tag"]]
            self.assertAlmostEqual(float(row["bare_velocity [fpm]"]) / velocity, 1, delta=0.01)
            self.assertAlmostEqual(float(row["bare_velocity_pressure [in w.g.]"]), pressure, delta=0.005)
            self.assertAlmostEqual(float(row["bare_friction [in w.g./100ft]"]), per_100, delta=0.0051)
            self.assertAlmostEqual(float(row["loss_bare [in w.g.]"]), whole, delta=0.0016)
        self.assertAlmostEqual(sum(float(row["loss_bare [in w.g.]"]) for row in rows), 0.096 + 0.108 + 0.102, delta=0.002)

    def test_sound(self):
        """Reynolds and Bledsoe, Algorithms for HVAC Acoustics, 1991, equation 5.18 with tables 5.5 and 5.6, and VDI 2081."""
        coefficients = np.array([
            [0.2825, 0.3447, -5.251e-2, -3.837e-2, 9.132e-4, -8.294e-6], [0.5237, 0.2234, -4.936e-3, -2.724e-2, 3.377e-4, -2.490e-6],
            [0.3652, 0.7900, -0.1157, -1.834e-2, -1.211e-4, 2.681e-6], [0.1333, 1.8450, -0.3735, -1.293e-2, 8.624e-5, -4.986e-6],
            [1.9330, 0, 0, 6.135e-2, -3.891e-3, 3.934e-5], [2.7300, 0, 0, -7.341e-2, 4.428e-4, 1.006e-6],
            [2.8000, 0, 0, -0.1467, 3.404e-3, -2.851e-5], [1.5450, 0, 0, -5.452e-2, 1.290e-3, -1.318e-5]])
        bare = {7: [.03, .03, .05, .05, .10, .10, .10, .10], 15: [.03, .03, .03, .05, .07, .07, .07, .07],
                30: [.02, .02, .02, .03, .05, .05, .05, .05], 60: [.01, .01, .01, .02, .02, .02, .02, .02]}
        octaves = 62.5 * 2.0**np.arange(8)
        octaves[0] = 63
        sizes = {"A": (10, 1), "B": (14, 2), "C": (30, 1), "D": (60, 3)}
        fittings = {tag: ("straight", {"diameter": d, "length": 96, "flow": 6 * d * d, "thickness": t}) for tag, (d, t) in sizes.items()}
        rows, _ = self.report(job("in", fittings), "--more")
        for tag, (metal, t) in sizes.items():
            row = rows[tag, "through"]
            d = metal - 2 * t
            loss = coefficients @ np.array([1, t, t * t, d, d * d, d**3])
            found = [band["total"] for band in row["insertion_loss"]["bands"]]
            np.testing.assert_allclose(found, np.clip(loss, 0, None) * 8, atol=2e-5)
            self.assertIn("25 % open area", " ".join(row["insertion_loss"]["notes"]))
            limit = min(size for size in bare if metal <= size)
            np.testing.assert_allclose(row["bare_attenuation"], 8 * np.array(bare[limit]), atol=1e-5)
            velocity = row["lined_air"]["velocity"]
            level = 7 + 50 * np.log10(velocity) + 10 * np.log10(row["free_area"] * 1e-6)
            np.testing.assert_allclose(row["air_noise"], level - 2 - 26 * np.log10(1.14 + 0.02 * octaves / velocity), atol=1e-3)
        text = " ".join(self.made("bore", "job.toml", "--more").stdout.split())
        for words in ["equation 5.18", "25 % open area", "0.75 pcf", "VDI 2081, from memory", "2 to 20 m/s", "table 5.5"]:
            self.assertIn(words, text)
        line = self.table(job("in", fittings), "--more")[0]
        self.assertIn("25 % open area", line["insertion_loss_from"])

    def test_least_thickness_that_stays_dry(self):
        """Cylinder and films as ISO 12241 has them, the thickness found by halving until the metal is at the dew point."""
        air = 'temperature = "14 C"\nroom_temperature = "30 C"\nroom_humidity = "80 %"'
        rows, data = self.report(job("mm", {"S": ("straight", {"diameter": 400, "length": 1000, "flow": '"0.8 m3/s"', "conductivity": 0.04})},
                                     air), "--more")
        dew = data["room"]["dew_point"]
        self.assertAlmostEqual(dew, 26.2, delta=0.05)  # as an insulation maker's sheet prints it for 30 C and 80 %
        kelvin = 287.15
        density = 101325 / (8314.32 / 28.9644 * kelvin)
        viscosity = 1.458e-6 * kelvin**1.5 / (kelvin + 110.4) / density
        conductivity = 2.64638e-3 * kelvin**1.5 / (kelvin + 245.4 * 10**(-12 / kelvin))
        prandtl = viscosity * density * 3.5 * 8314.32 / 28.9644 / conductivity
        outside = 0.4 + 2 * rows["S", "through"].get("gauge", 0.8) * 1e-3

        def surface(thickness):
            bore = 0.4 - 2 * thickness
            inside = 0.023 * (0.8 / (math.pi / 4 * bore) / viscosity)**0.8 * prandtl**0.4 * conductivity / bore
            inner = math.log(0.4 / bore) / (2 * math.pi * 0.04) + 1 / (math.pi * bore * inside)
            low, high = 14.0, 30.0
            for _ in range(100):
                t = (low + high) / 2
                dt = 30 - t
                still = 1.25 * (dt / outside)**0.25 if outside**3 * dt <= 10 else 1.21 * dt**(1 / 3)
                film = still + 0.26 * 5.670374e-8 * ((t + 273.15)**2 + 303.15**2) * (t + 273.15 + 303.15)
                low, high = (t, high) if math.pi * outside * film * dt > (t - 14) / inner else (low, t)
            return low

        low, high = 0.001, 0.18
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if surface(middle) < dew else (low, middle)
        self.assertAlmostEqual(rows["S", "through"]["heat"]["least_dry_thickness"], 1e3 * low, delta=0.05)

    def test_offset_taper(self):
        """Friction of the bare metal along the line of centres: sections of the oblique cone square to it, by their ellipses,
        trapezia between the stations that the report states; areas in all of them."""
        rows, _ = self.report(job("mm", {"R": ("reducer", {"diameter": 500, "to_diameter": 250, "offset": 200, "length": 350,
                                                            "flow": '"0.8 m3/s"'})}))
        row = rows["R", "through"]
        self.assertAlmostEqual(row["length"], math.hypot(350, 200), places=5)
        places = row["stations"]
        along = np.array([place["distance"] for place in places])
        bare = np.array([place["bare_diameter"] for place in places])
        fine = np.linspace(along[0], along[-1], 200001)
        values = friction(np.interp(fine, along, bare) * 1e-3, 0.8, 0.09e-3)
        whole = ((values[:-1] + values[1:]) / 2 * np.diff(fine)).sum() * 1e-3
        self.assertAlmostEqual(row["losses"]["bare"]["friction"] / whole, 1, delta=1e-6)
        # square to the line of centres a tenth is lost against the circle of the same height
        middle = np.interp(math.hypot(350, 200) / 2, along, bare)
        self.assertAlmostEqual((middle / 375)**2, 0.9, delta=0.015)
        self.assertTrue(any("moved aside" in what for what in row["losses"]["lined"]["left_out"]))

    def test_both_systems_say_the_same_of_heat_and_sound(self):
        air = 'temperature = "55 F"\nroom_temperature = "86 F"\nroom_humidity = "70 %"\nfan_efficiency = 0.6\n'
        metric = {"S": ("straight", {"diameter": '"400mm"', "length": '"2000mm"', "flow": '"1 m3/s"'}),
                  "R": ("reducer", {"diameter": '"400mm"', "to_diameter": '"300mm"', "offset": '"60mm"', "length": '"350mm"',
                                    "flow": '"1 m3/s"'})}
        one = self.table(job("mm", metric, air, "1in"), "--more")
        other = self.table(job("in", metric, air, "1in"), "--more")
        si = {"mm": 1, "in": 25.4, "m2": 1, "ft2": 0.3048**2, "m3/s": 1, "cfm": 0.3048**3 / 60, "m/s": 1, "fpm": 0.3048 / 60, "Pa": 1,
              "in w.g.": IN_WG, "Pa/m": 1, "in w.g./100ft": IN_WG / 30.48, "W/m": 1, "Btu/(h ft)": 1055.05585262 / 3600 / 0.3048, "m K/W": 1,
              "h ft F/Btu": 3600 * 0.3048 / 1055.05585262 / 1.8, "m2 K/W": 1, "h ft2 F/Btu": 3600 * 0.3048**2 / 1055.05585262 / 1.8, "dB": 1}
        checked = 0
        for a, b in zip(one, other):
            values = {}
            for row, side in [(a, 0), (b, 1)]:
                for head, cell in row.items():
                    name, _, unit = head.partition(" [")
                    unit = unit.rstrip("]")
                    if cell and unit in si:
                        values.setdefault(name, {})[side] = float(cell) * si[unit]
                    elif cell and unit in ("C", "F"):
                        values.setdefault(name, {})[side] = float(cell) if unit == "C" else (float(cell) - 32) / 1.8
            for name, pair in values.items():
                self.assertEqual(len(pair), 2, name)
                self.assertAlmostEqual(pair[0], pair[1], delta=1.5e-5 + 5e-6 * abs(pair[0]), msg=name)
                checked += 1
        self.assertGreater(checked, 60)

    def test_explain_knows_the_heads(self):
        """Every head word of the tables that stands for a figure has its formula, source and doubts."""
        for word in ["p_v", "Re", "friction", "sound", "heat", "loss", "f", "share", "bare", "lined", "free", "vel. x", "at", "narrowest",
                     "limit", "fr. bare", "fr. lined", "loss bare", "times count", "velocity", "air noise", "nosing", "fan", "metal",
                     "dry from", "metal bare", "of length", "duct face", "air face", "laid flat", "in all", "flow", "Re bare", "f lined"]:
            text = self.made("bore", "--explain", word).stdout
            self.assertIn("formula:", text, word)
            self.assertIn("source:", text, word)


if __name__ == "__main__":
    unittest.main()
