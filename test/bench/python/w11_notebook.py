"""Counterpart of W11: the same notebook in Jupyter's own runner, with plotly in the page."""
import sys

import nbformat
import plotly  # noqa: F401 - the notebook needs it
from nbclient import NotebookClient
from nbconvert import HTMLExporter

from generate import checksum, tilted_points
from timing import report

CELLS = ["""import numpy as np
import scipy.interpolate, scipy.optimize
import plotly.graph_objects as go, plotly.io as pio
pio.renderers.default = "notebook\"""",
         """def U(seed, k0, n):
    k = np.arange(k0 + 1, k0 + n + 1, dtype=np.uint64)
    a = ((np.uint64(seed) + k * np.uint64(0x6D2B79F5)) & np.uint64(0xFFFFFFFF)).astype(np.uint32)
    t = (a ^ (a >> np.uint32(15))) * (a | np.uint32(1))
    t = (t + (t ^ (t >> np.uint32(7))) * (t | np.uint32(61))) ^ t
    return (t ^ (t >> np.uint32(14))) / 4294967296.0
x = 2000 * U(1111, 0, 1000); y = 1000 * U(1111, 1000, 1000)
z = 12.5 + 0.003 * x - 0.002 * y + 3 * (U(1111, 2000, 1000) - 0.5)
A = np.column_stack((x, y, np.ones(1000)))
c = np.linalg.lstsq(A, z, rcond=None)[0]
r = z - A @ c
print('%.12g %.12g %.12g %.12g' % (*c, r.max() - r.min()))""",
         """s = scipy.interpolate.RBFInterpolator(np.column_stack((x / 2000, y / 1000)), r, smoothing=1.0)
g = np.arange(60) / 59.0
X, Y = np.meshgrid(g, g)
Z = s(np.column_stack((X.ravel(), Y.ravel()))).reshape(60, 60)
print('%.9g %.9g' % (Z.min(), Z.max()))""",
         """fig = go.Figure(go.Surface(x=g * 2000, y=g * 1000, z=Z))
fig.update_layout(title='Surface', scene=dict(zaxis_title='um'))
fig.show()"""]

size = int(sys.argv[1])


def run():
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(cell) for cell in CELLS])
    NotebookClient(notebook, kernel_name="python3", timeout=300).execute()
    return notebook


def result(notebook):
    outputs = [cell.outputs for cell in notebook.cells]
    printed = [float(v) for found in outputs for o in found if o.output_type == "stream" for v in o.text.split()]
    figures = sum("text/html" in o.get("data", {}) for o in outputs[3])
    body, _ = HTMLExporter().from_notebook_node(notebook)
    names = ("a", "b", "c", "width", "least", "greatest")
    return {**dict(zip(names, printed)), "figures": min(figures, 1), "html_bytes": len(body.encode()),
            "ipynb_bytes": len(nbformat.writes(notebook).encode())}


report("W11", "nbclient-plotly", size, run, result, checksum(*tilted_points(1111, size)))
