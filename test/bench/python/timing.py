"""One measurement of a counterpart, as a JSON line."""
import json
import time


def report(task, variant, size, run, result, checksum):
    begun = time.perf_counter()
    run()
    first = time.perf_counter() - begun
    times, processor = [], []
    end = time.perf_counter() + 2
    while len(times) < 5 or (len(times) < 40 and time.perf_counter() < end):
        begun, own = time.perf_counter(), time.process_time()
        outcome = run()
        times.append(time.perf_counter() - begun)
        processor.append(time.process_time() - own)
    line = {"id": task, "variant": variant, "n": size, "min_s": min(times), "min_cpu_s": min(processor),
            "median_s": sorted(times)[len(times) // 2]}
    line.update(first_s=first, reps=len(times), result=result(outcome), checksum=checksum)
    print(json.dumps(line))
