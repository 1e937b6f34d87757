"""The kernel against the Jupyter project's own test of the message protocol.

Run by test/slow/kernel-protocol.test.ts, which makes the kernel known under the name "dialbook" first.
Not run here: pager (tslab has none), clear_output (no call for it in a cell), and "invalid" code, which tslab's
is_complete does not tell from complete code.
"""

import unittest

import jupyter_kernel_test


class DialbookKernelTests(jupyter_kernel_test.KernelTests):
    kernel_name = "dialbook"
    language_name = "typescript"
    file_extension = ".ts"

    code_hello_world = 'console.log("hello, world")'
    code_stderr = 'console.error("careful")'
    completion_samples = [
        {"text": "[1].toLocaleS", "matches": {"toLocaleString"}},
        {"text": "Math.hyp", "matches": {"hypot"}},
    ]
    complete_code_samples = ["1", "const a = 2", "function f() { return 3 }"]
    incomplete_code_samples = ["function f() {", "const a = ["]
    code_generate_error = 'throw new Error("on purpose")'
    code_execute_result = [
        {"code": "6 * 7", "result": "42"},
        {"code": "[1, 2]", "result": "[ 1, 2 ]"},
        {"code": "6 * 7", "result": "42"},
        {
            "code": '({ [Symbol.for("Jupyter.display")]: () => ({ "text/html": "<b>4</b>" }) })',
            "mime": "text/html",
            "result": "<b>4</b>",
        },
    ]
    code_display_data = [
        {"code": 'import { display } from "tslab"; display.html("<b>5</b>")', "mime": "text/html"},
    ]
    code_history_pattern = "6 ?*"
    supported_history_operations = ("tail", "range", "search")
    code_inspect_sample = "parseFloat"


if __name__ == "__main__":
    unittest.main()
