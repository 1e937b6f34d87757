"""The inputs of the benchmark in numpy, bit for bit those of generate.mjs."""
import numpy as np

STRIDE = np.uint32(0x6D2B79F5)


def uniforms(seed, first, count):
    k = np.arange(first + 1, first + count + 1, dtype=np.uint64).astype(np.uint32)
    state = np.uint32(seed) + k * STRIDE
    mixed = (state ^ (state >> np.uint32(15))) * (state | np.uint32(1))
    mixed = (mixed + (mixed ^ (mixed >> np.uint32(7))) * (mixed | np.uint32(61))) ^ mixed
    return (mixed ^ (mixed >> np.uint32(14))) / 4294967296.0


def near_normals(seed, first, count):
    total = np.zeros(count)
    for block in range(12):
        total += uniforms(seed, first + block * count, count)
    return total - 6.0


def checksum(*arrays):
    words = np.concatenate([np.ascontiguousarray(a).view("<u4") for a in arrays])
    odd = 2 * np.arange(len(words), dtype=np.uint64) + 1
    return "%08x" % (int(np.sum(words.astype(np.uint64) * odd % (1 << 32), dtype=np.uint64)) % (1 << 32))


def plane_points(seed, count):
    x = 2000 * uniforms(seed, 0, count)
    y = 1000 * uniforms(seed, count, count)
    bent = (x - 1000) * 0.001
    z = 12.5 + 0.003 * x - 0.002 * y - 4 * bent * bent + 1.5 * near_normals(seed, 2 * count, count)
    return x, y, z


def gauge_studies(seed, count):
    g = near_normals(seed, 0, 133 * count).reshape(count, 133)
    part, operator = g[:, :10, None, None], g[:, None, 10:13, None]
    both = g[:, 13:43].reshape(count, 10, 3, 1)
    repeat = g[:, 43:].reshape(count, 10, 3, 3)
    return 10 + 0.8 * part + 0.25 * operator + 0.1 * both + 0.2 * repeat


def quadratic_points(seed, count):
    x = 2 * uniforms(seed, 0, count) - 1
    y = 2 * uniforms(seed, count, count) - 1
    noise = near_normals(seed, 2 * count, count)
    chance, size = uniforms(seed, 14 * count, count), uniforms(seed, 15 * count, count)
    z = 2 + 0.5 * x - 0.3 * y + 1.2 * (x * x) - 0.7 * (x * y) + 0.4 * (y * y) + 0.05 * noise
    return x, y, np.where(chance < 0.05, z + (2 + 3 * size), z)


def checksum_of_bytes(text):
    data = np.frombuffer(text, dtype=np.uint8).astype(np.uint64)
    odd = 2 * np.arange(len(data), dtype=np.uint64) + 1
    return "%08x" % int(np.sum(data * odd, dtype=np.uint64) % (1 << 32))


def thousandths(count):
    size = abs(count)
    return f"{'-' if count < 0 else ''}{size // 1000}.{size % 1000:03d}"


def survey_sheet(seed, points, runs):
    base = np.floor(uniforms(seed, 0, points) * 20001).astype(int) - 10000
    noise = np.floor(uniforms(seed, points, points * runs) * 1001).astype(int) - 500
    warmth = np.floor(uniforms(seed, points + points * runs, points * runs) * 401).astype(int) + 19800
    lines = ["run,point,x_mm,y_mm,z_um,temp_c"]
    for row in range(points * runs):
        run = row // points
        point = row % points if run % 2 == 0 else points - 1 - row % points
        numbers = [(point % 50) * 20125, point // 50 * 25250, int(base[point] + noise[row]), int(warmth[row])]
        lines.append(",".join([str(run + 1), f"P{point + 1:05d}", *map(thousandths, numbers)]))
    return ("\n".join(lines) + "\n").encode()


def bidirectional(seed, count, runs):
    k = np.arange(2 * count * runs)
    q = k % (2 * count)
    down = (q >= count).astype(np.int64)
    position = np.where(down == 1, 2 * count - 1 - q, q)
    t = position / (count - 1)
    noise = near_normals(seed, 0, len(k))
    value = ((6 * t - 4 * (t * t)) + np.where(down == 1, -0.8, 0.8) * (1 + 0.5 * t)) + (0.3 + 0.2 * t) * noise
    return position, down, value


def scattered_points(seed, count, noise):
    x, y = uniforms(seed, 0, count), uniforms(seed, count, count)
    a, b, c, d = x - 0.5, y - 0.4, x - 0.3, y - 0.6
    z = ((5 * a * a - 3 * b * b) + 2 / (1 + 20 * (c * c + d * d))) + noise * near_normals(seed, 2 * count, count)
    return x, y, z


def unit_grid(side):
    line = np.arange(side) / (side - 1.0)
    return np.column_stack((np.tile(line, side), np.repeat(line, side)))


def tilted_points(seed, count):
    x, y = 2000 * uniforms(seed, 0, count), 1000 * uniforms(seed, count, count)
    return x, y, 12.5 + 0.003 * x - 0.002 * y + 3 * (uniforms(seed, 2 * count, count) - 0.5)
