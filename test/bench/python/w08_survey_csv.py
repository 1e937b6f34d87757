"""Counterpart of W8: pandas reads all columns of the sheet and groups the heights by point."""
import os
import sys
import tempfile

import pandas as pd

from generate import checksum_of_bytes, survey_sheet
from timing import report


def statistics(path):
    table = pd.read_csv(path)
    return table.groupby("point", sort=True)["z_um"].agg(["count", "mean", "std"])


def result(found):
    return {
        "places": len(found),
        "readings": int(found["count"].sum()),
        "sum_mean": float(found["mean"].sum()),
        "sum_s": float(found["std"].sum()),
        "greatest_s": float(found["std"].max()),
        "first_mean": float(found["mean"].iloc[0]),
        "first_s": float(found["std"].iloc[0]),
    }


size = int(sys.argv[1])
text = survey_sheet(808, size // 50, 50)
with tempfile.TemporaryDirectory() as folder:
    path = os.path.join(folder, "survey.csv")
    with open(path, "wb") as file:
        file.write(text)
    report("W8", "pandas", size, lambda: statistics(path), result, checksum_of_bytes(text))
