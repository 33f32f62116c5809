// The arithmetic of carrybook/physics/flight_blocks.py by hand, over level ground at zero: the same
// sixteen lanes a block, steps, polynomials and landing search. Rows are those of that file.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstring>

namespace {

constexpr int LANES = 16;
using Row = double[LANES];

struct Block {
    Row state[7], before[7], at[7], sum[7];  // x, y, z, vx, vy, vz, spin
    Row axis[3], wind_x, wind_y, shear, offset, level, aero[8], h;
    Row above, landed, time, top, part;
};

struct Body {
    double gain, reynolds, radius, gravity;
};

inline double exp_(double x) {
    const double k = std::nearbyint(x * 1.4426950408889634), r = x - k * 0.6931471805599453;
    double p = 1.0 / 24.0 + r * (1.0 / 120.0 + r * (1.0 / 720.0 + r * (1.0 / 5040.0)));
    p = 1.0 + r * (1.0 + r * (0.5 + r * (1.0 / 6.0 + r * p)));
    const int64_t bits = int64_t(int32_t(k) + 1023) << 52;
    double power;
    std::memcpy(&power, &bits, 8);
    return p * power;
}

inline double log_(double x) {
    uint64_t bits;
    std::memcpy(&bits, &x, 8);
    const uint64_t k = ((bits - 0x3FE6A09E667F3BCD + (1024ull << 52)) >> 52) - 1024;
    const uint64_t rest = bits - (k << 52);
    double f;
    std::memcpy(&f, &rest, 8);
    f -= 1.0;
    double p = -0.17405911833610702 + f * (0.1636587995231944 - f * 0.09842353531361618);
    p = 0.33335709737451924 + f * (-0.24952128487663844 + f * (0.1988280259476702 + f * p));
    p = 0.9999998571599676 + f * (-0.5000094528500214 + f * p);
    return 2.8611006155884598e-08 + f * p + int32_t(k) * 0.6931471805599453;
}

inline void push(const Block& b, int j, const Body& body, double (&f)[4]) {
    const double vx = b.at[3][j], vy = b.at[4][j], vz = b.at[5][j], spin = b.at[6][j];
    const double high = std::max(b.at[2][j] - b.level[j], 1e-6);
    const double share = std::max(0.0, b.offset[j] + b.shear[j] * log_(high));
    const double ux = vx - b.wind_x[j] * share, uy = vy - b.wind_y[j] * share;
    const double speed = std::sqrt(ux * ux + uy * uy + vz * vz) + 1e-9;
    const double crisis = (speed * body.reynolds - b.aero[5][j]) * b.aero[6][j];
    const double soft = 1.0 + exp_(std::min(std::max(crisis, -50.0), 50.0));
    const double inverse = 1.0 / (speed * soft), ratio = spin * soft * inverse;
    const double lift = b.aero[0][j] - b.aero[0][j] * exp_(std::max(b.aero[1][j] * ratio, -50.0));
    const double drag = b.aero[2][j] + b.aero[3][j] * ratio + b.aero[4][j] * speed * inverse;
    const double up = body.gain * speed * lift, back = body.gain * speed * drag;
    const double ax = b.axis[0][j], ay = b.axis[1][j], az = b.axis[2][j];
    f[0] = up * (ay * vz - az * uy) - back * ux;
    f[1] = up * (az * ux - ax * vz) - back * uy;
    f[2] = up * (ax * uy - ay * ux) - back * vz - body.gravity;
    f[3] = b.aero[7][j] * spin * speed;
}

void block_step(Block& b, const Body& body) {
    std::memcpy(b.before, b.state, sizeof b.state);
    std::memcpy(b.at, b.state, sizeof b.state);
    std::memset(b.sum, 0, sizeof b.sum);
    for (int stage = 0; stage < 4; ++stage) {
        const double part = stage < 2 ? 0.5 : 1.0, weight = stage == 1 || stage == 2 ? 2.0 : 1.0;
#pragma GCC ivdep
        for (int j = 0; j < LANES; ++j) {
            double f[4];
            push(b, j, body, f);
            const double h = part * b.h[j];
            const double v[3] = {b.at[3][j], b.at[4][j], b.at[5][j]};
            for (int r = 0; r < 3; ++r) b.sum[r][j] += weight * v[r];
            for (int r = 0; r < 4; ++r) b.sum[3 + r][j] += weight * f[r];
            b.at[2][j] = b.before[2][j] + h * v[2];
            for (int r = 0; r < 4; ++r) b.at[3 + r][j] = b.before[3 + r][j] + h * f[r];
        }
    }
    for (int r = 0; r < 7; ++r)
        for (int j = 0; j < LANES; ++j)
            b.state[r][j] = b.before[r][j] + b.h[j] * (1.0 / 6.0) * b.sum[r][j];
}

double hermite(double a, double b, double da, double db, double t) {
    const double rest = 1.0 - t;
    return a * rest * rest * (1.0 + 2.0 * t) + b * t * t * (3.0 - 2.0 * t) +
           t * rest * (da * rest - db * t);
}

double slope(double a, double b, double da, double db, double t) {
    return 6.0 * t * (1.0 - t) * (b - a) + da * (1.0 - t) * (1.0 - 3.0 * t) +
           db * t * (3.0 * t - 2.0);
}

double bend(double a, double b, double da, double db, double t) {
    return 6.0 * (1.0 - 2.0 * t) * (b - a) + da * (6.0 * t - 4.0) + db * (6.0 * t - 2.0);
}

double root(double a, double b, double da, double db) {
    double low = 0.0, high = 1.0, t = a / (a - b);
    for (int k = 0; k < 20; ++k) {
        const double value = hermite(a, b, da, db, t), steep = slope(a, b, da, db, t);
        (value > 0.0 ? low : high) = t;
        double next = steep != 0.0 ? t - value / steep : low;
        if (!(low < next && next < high)) next = 0.5 * (low + high);
        if (std::abs(next - t) < 1e-12) break;
        t = next;
    }
    return t;
}

int landed(Block& b, int n, double time, double h) {
    int count = 0;
    for (int j = 0; j < LANES; ++j) {
        if (b.landed[j] > 0.0) continue;
        const double z = b.state[2][j], before = b.before[2][j];
        const double fast = b.before[5][j] * h, slow = b.state[5][j] * h;
        if (fast > 0.0 && slow <= 0.0) {  // the top
            double t = fast / (fast - slow);
            for (int k = 0; k < 3; ++k) {
                const double curve = bend(before, z, fast, slow, t);
                if (curve < 0.0)
                    t = std::min(std::max(t - slope(before, z, fast, slow, t) / curve, 0.0), 1.0);
            }
            b.top[j] = std::max(b.top[j], hermite(before, z, fast, slow, t));
        }
        if (z >= 0.0) {
            b.above[j] = 1.0;
        } else if (b.above[j] > 0.0 && (n > 0 || slow < 0.0)) {
            b.part[j] = h * root(std::max(before, 0.0), z, fast, slow);
            b.landed[j] = 1.0, b.time[j] = time;
            for (int r = 0; r < 7; ++r) b.state[r][j] = b.before[r][j];
            ++count;
        }
    }
    return count;
}

void meet(Block& b, const Body& body) {
    for (int j = 0; j < LANES; ++j) b.time[j] += b.h[j] = b.landed[j] > 0.0 ? b.part[j] : 0.0;
    block_step(b, body);
    for (int j = 0; j < LANES; ++j) {
        const double fall = b.state[5][j];
        b.h[j] = 0.0;
        if (b.landed[j] > 0.0 && fall < 0.0)
            b.h[j] = std::min(std::max(-b.state[2][j] / fall, -0.1), 0.1);
        b.time[j] += b.h[j];
    }
    block_step(b, body);
}

void load(Block& b, int j, const double* launch, const double* a, const double* wind,
          double radius) {
    const double cr = std::cos(launch[4]), sr = std::sin(launch[4]);
    const double ct = std::cos(launch[3]), st = std::sin(launch[3]);
    const double level = launch[0] * std::cos(launch[1]);
    const double state[7] = {0.0, 0.0, 0.0, level * cr, -level * sr,
                             launch[0] * std::sin(launch[1]), launch[2]};
    for (int r = 0; r < 7; ++r) b.state[r][j] = state[r];
    b.axis[0][j] = -sr * ct, b.axis[1][j] = -cr * ct, b.axis[2][j] = -st;
    b.wind_x[j] = wind[0], b.wind_y[j] = wind[1], b.shear[j] = wind[2];
    b.offset[j] = 1.0 - wind[2] * std::log(wind[3]), b.level[j] = wind[4];
    const double aero[8] = {a[0], -radius / a[1], a[2], a[3] * radius,
                            a[4], a[5], 1.0 / a[6], -a[7] / radius};
    for (int r = 0; r < 8; ++r) b.aero[r][j] = aero[r];
    b.above[j] = 1.0, b.landed[j] = b.time[j] = b.top[j] = b.part[j] = 0.0;
}

}  // namespace

// Rows order[first..last] of launches (n, 5) and winds (n, 5), one set; landings (n, 10) to out.
extern "C" void fly(int64_t first, int64_t last, const int64_t* order, const double* launches,
                    const double* body_row, const double* aero, const double* winds,
                    const double* steps, int64_t graded, int64_t most_steps, double* out) {
    const Body body{body_row[0], body_row[1], body_row[2], body_row[3]};
    for (int64_t base = first; base < last; base += LANES) {
        Block b;
        for (int j = 0; j < LANES; ++j) {
            const int64_t k = order[std::min<int64_t>(base + j, last - 1)];
            load(b, j, launches + 5 * k, aero, winds + 5 * k, body.radius);
        }
        int flying = LANES;
        double time = 0.0;
        for (int64_t n = 0; n < most_steps && flying > 0; ++n) {
            const double h = steps[std::min(n, graded - 1)];
            for (int j = 0; j < LANES; ++j) b.h[j] = b.landed[j] == 0.0 ? h : 0.0;
            block_step(b, body);
            flying -= landed(b, int(n), time, h);
            time += h;
        }
        meet(b, body);
        for (int64_t j = 0; j < LANES && base + j < last; ++j) {
            double* row = out + 10 * order[base + j];
            for (int r = 0; r < 7; ++r) row[r] = b.state[r][j];
            row[7] = b.time[j], row[8] = b.top[j], row[9] = b.landed[j];
        }
    }
}
