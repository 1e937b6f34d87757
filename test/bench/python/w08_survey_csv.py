"""Counterpart of W8: pandas reads all columns of the sheet and groups the heights by point."""
import json
import os
import sys
import tempfile
import time

import pandas as pd

from generate import checksum_of_bytes, survey_sheet


def statistics(path):
    table = pd.read_csv(path)
    return table.groupby("point", sort=True)["z_um"].agg(["count", "mean", "std"])


size = int(sys.argv[1])
text = survey_sheet(808, size // 50, 50)
with tempfile.TemporaryDirectory() as folder:
    path = os.path.join(folder, "survey.csv")
    with open(path, "wb") as file:
        file.write(text)
    begun = time.perf_counter()
    statistics(path)
    first = time.perf_counter() - begun
    times = []
    end = time.perf_counter() + 2
    while len(times) < 5 or (len(times) < 40 and time.perf_counter() < end):
        begun = time.perf_counter()
        outcome = statistics(path)
        times.append(time.perf_counter() - begun)
print(
    json.dumps(
        {
            "id": "W8",
            "variant": "pandas",
            "n": size,
            "min_s": min(times),
            "median_s": sorted(times)[len(times) // 2],
            "first_s": first,
            "reps": len(times),
            "result": {
                "places": len(outcome),
                "readings": int(outcome["count"].sum()),
                "sum_mean": float(outcome["mean"].sum()),
                "sum_s": float(outcome["std"].sum()),
                "greatest_s": float(outcome["std"].max()),
                "first_mean": float(outcome["mean"].iloc[0]),
                "first_s": float(outcome["std"].iloc[0]),
            },
            "checksum": checksum_of_bytes(text),
        }
    )
)
