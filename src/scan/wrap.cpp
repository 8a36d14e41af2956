// SPDX-License-Identifier: MIT
#include "scan/wrap.h"

#include <array>
#include <cmath>
#include <cstdint>
#include <map>
#include <utility>
#include <vector>

#include "body/mesher.h"
#include "geometry/disjoint_sets.h"
#include "geometry/moments.h"
#include "scan/multigrid.h"
#include "units/parallel.h"

namespace evenspit::scan {

namespace {

constexpr int levels = 4;
constexpr int margin = 8;  // nodes between the sheet and the zeros: the field must fade freely
constexpr double screening =
    2;  // weight of the discs' places against their normals, per unit of area of the grid
constexpr int most_iterations = 60;
constexpr double lattice_in_spacings = 1.8;     // the mesher's triangles are half as large as its lattice
constexpr std::size_t places_a_look = 1 << 14;  // some milliseconds
constexpr double tolerance = 1e-4;              // of the right-hand side; the contour settles long before

// Where a disc touches the grid: the lowest node of its cell and the weights of the eight.
struct Touch {
    std::size_t index;
    std::array<float, 8> weights;
    float area;  // in squares of the grid
};

std::array<std::ptrdiff_t, 8> corners(const GridField& field) {
    std::array<std::ptrdiff_t, 8> offset{};
    for (int c = 0; c < 8; ++c)
        offset[std::size_t(c)] = (c & 1) + ((c >> 1) & 1) * field.row() + ((c >> 2) & 1) * field.layer();
    return offset;
}

std::array<float, 8> weights_of(const Vec3& t) {
    std::array<float, 8> w{};
    for (int c = 0; c < 8; ++c) {
        w[std::size_t(c)] = float(((c & 1) ? t.x() : 1 - t.x()) * ((c & 2) ? t.y() : 1 - t.y()) *
                                  ((c & 4) ? t.z() : 1 - t.z()));
    }
    return w;
}

// Minus the divergence of the field of inward normals, each spread over the faces round its disc.
void splat_normals(const Sheet& sheet, GridField& right) {
    const auto offset = corners(right);
    const double square = right.spacing * right.spacing;
    for (std::size_t s = 0; s < sheet.size(); ++s) {
        const Vec3 flux = -sheet.normals[s] * (sheet.areas[s] / square);
        for (int axis = 0; axis < 3; ++axis) {
            // Faces stand half a side further along their axis than the node they belong to.
            Vec3 place = sheet.positions[s];
            place[axis] -= 0.5 * right.spacing;
            const auto [index, inside] = right.cell_of(place);
            const auto weights = weights_of(inside);
            const std::ptrdiff_t next = axis == 0 ? 1 : axis == 1 ? right.row() : right.layer();
            for (std::size_t c = 0; c < 8; ++c) {
                const auto node = std::ptrdiff_t(index) + offset[c];
                const float amount = weights[c] * float(flux[axis]);
                right.values[std::size_t(node)] -= amount;
                right.values[std::size_t(node + next)] += amount;
            }
        }
    }
}

// [1 2 1]/4 along each axis: bridges the gaps between discs.
void smooth(GridField& field) {
    GridField copy = field;
    for (const std::ptrdiff_t next : {std::ptrdiff_t{1}, field.row(), field.layer()}) {
        parallel_for(
            std::size_t(field.n[2]),
            [&](std::size_t first, std::size_t last) {
                for (std::size_t k = first; k < last; ++k) {
                    for (int j = 0; j < field.n[1]; ++j) {
                        const std::size_t start = field.index(0, j, int(k));
                        const float* const in = field.values.data() + start;
                        float* const out = copy.values.data() + start;
                        for (int i = 0; i < field.n[0]; ++i)
                            out[i] = 0.25F * (in[i - next] + in[i + next]) + 0.5F * in[i];
                    }
                }
            },
            4);
        std::swap(field.values, copy.values);
    }
}

// y = (6 x − Σ neighbours) + screening · Pᵀ A P x
void multiply(const GridField& x, const std::vector<Touch>& touches, GridField& y) {
    parallel_for(
        std::size_t(x.n[2]),
        [&](std::size_t first, std::size_t last) {
            const std::ptrdiff_t row = x.row(), layer = x.layer();
            for (std::size_t k = first; k < last; ++k) {
                for (int j = 0; j < x.n[1]; ++j) {
                    const std::size_t start = x.index(0, j, int(k));
                    const float* const in = x.values.data() + start;
                    float* const out = y.values.data() + start;
                    for (int i = 0; i < x.n[0]; ++i) {
                        out[i] = 6 * in[i] - (in[i - 1] + in[i + 1] + in[i - row] + in[i + row] +
                                              in[i - layer] + in[i + layer]);
                    }
                }
            }
        },
        4);
    const auto offset = corners(x);
    for (const Touch& touch : touches) {
        float value = 0;
        for (std::size_t c = 0; c < 8; ++c)
            value += touch.weights[c] * x.values[std::size_t(std::ptrdiff_t(touch.index) + offset[c])];
        value *= float(screening) * touch.area;
        for (std::size_t c = 0; c < 8; ++c)
            y.values[std::size_t(std::ptrdiff_t(touch.index) + offset[c])] += touch.weights[c] * value;
    }
}

double dot(const GridField& a, const GridField& b) {
    // In double and in layers, so that the sum does not depend on threads.
    std::vector<double> sums(std::size_t(a.n[2] + 2), 0.0);
    parallel_for(
        sums.size(),
        [&](std::size_t first, std::size_t last) {
            for (std::size_t k = first; k < last; ++k) {
                const std::size_t start = k * std::size_t(a.layer());
                double sum = 0;
                for (std::size_t i = start; i < start + std::size_t(a.layer()); ++i)
                    sum += double(a.values[i]) * double(b.values[i]);
                sums[k] = sum;
            }
        },
        8);
    return std::accumulate(sums.begin(), sums.end(), 0.0);
}

void add_scaled(GridField& a, double factor, const GridField& b) {
    const auto f = float(factor);
    for (std::size_t i = 0; i < a.values.size(); ++i) a.values[i] += f * b.values[i];
}

}  // namespace

Indicator indicate(const Sheet& sheet, double spacing, const StopControl& control) {
    Indicator result;
    Box3 box;
    for (const Vec3& p : sheet.positions) box.extend(p);
    std::array<int, 3> n{};
    for (std::size_t k = 0; k < 3; ++k) {
        const int needed = int(std::ceil(box.sizes()[std::ptrdiff_t(k)] / spacing)) + 2 * margin;
        n[k] = multigrid_size(needed, levels);
    }
    const Vec3 half = 0.5 * spacing * Vec3(n[0] - 1, n[1] - 1, n[2] - 1);
    GridField right(box.center() - half, spacing, n);

    splat_normals(sheet, right);
    control.check();
    smooth(right);
    control.check();
    GridField diagonal(right.origin, spacing, n);
    std::vector<Touch> touches;
    touches.reserve(sheet.size());
    const auto offset = corners(right);
    for (std::size_t s = 0; s < sheet.size(); ++s) {
        const auto [index, inside] = right.cell_of(sheet.positions[s]);
        touches.push_back({index, weights_of(inside), float(sheet.areas[s] / (spacing * spacing))});
        for (std::size_t c = 0; c < 8; ++c) {
            const float weight = float(screening) * touches.back().area * touches.back().weights[c];
            const auto node = std::size_t(std::ptrdiff_t(index) + offset[c]);
            diagonal.values[node] += weight;
            right.values[node] += 0.5F * weight;
        }
    }

    control.check();
    MultigridCycle precondition(diagonal, levels);
    GridField& x = result.field = GridField(right.origin, spacing, n);
    GridField r = right, z = x, p = x, q = x;
    const double target = tolerance * tolerance * dot(right, right);
    precondition.apply(r, z);
    p.values = z.values;
    double rz = dot(r, z);
    for (; result.iterations < most_iterations; ++result.iterations) {
        control.check();
        const double square = dot(r, r);
        result.residual = std::sqrt(square / (target / (tolerance * tolerance)));
        if (!(square > target)) break;
        multiply(p, touches, q);
        const double step = rz / dot(p, q);
        add_scaled(x, step, p);
        add_scaled(r, -step, q);
        precondition.apply(r, z);
        const double next = dot(r, z);
        const double back = next / rz;
        rz = next;
        const auto f = float(back);
        for (std::size_t i = 0; i < p.values.size(); ++i) p.values[i] = z.values[i] + f * p.values[i];
    }

    double sum = 0, area = 0;
    for (std::size_t s = 0; s < sheet.size(); ++s) {
        sum += sheet.areas[s] * x.interpolated(sheet.positions[s]);
        area += sheet.areas[s];
    }
    result.level = sum / area;
    return result;
}

TriangleMesh contour(const Indicator& indicator, int& dropped, const StopControl& control) {
    const GridField& field = indicator.field;
    const Vec3 half = 0.5 * field.spacing * Vec3(field.n[0] - 1, field.n[1] - 1, field.n[2] - 1);
    const Vec3 middle = field.origin + half;
    // Falls outward by about half its range within one side of the grid: made to look like a distance.
    EveryNthCheck now_and_then(control, places_a_look);
    const auto outside = [&](const Vec3& p) {
        now_and_then.step();
        return field.spacing * (indicator.level - field.interpolated(middle + p));
    };
    body::MesherOptions options;
    options.box = Box3(-half, half);
    options.spacing = lattice_in_spacings * field.spacing;
    const TriangleMesh all = body::mesh_field(outside, options);

    // Pieces, by what hangs together.
    DisjointSets sets(all.vertices.size());
    for (const Triangle& t : all.triangles) {
        sets.join(t[1], t[0]);
        sets.join(t[2], t[0]);
    }
    control.check();
    std::map<std::int32_t, TriangleMesh> pieces;
    std::vector<std::int32_t> number(all.vertices.size());
    for (std::size_t v = 0; v < all.vertices.size(); ++v) {
        TriangleMesh& piece = pieces[sets.root(std::int32_t(v))];
        number[v] = std::int32_t(piece.vertices.size());
        piece.vertices.push_back(middle + all.vertices[v]);
    }
    for (const Triangle& t : all.triangles) {
        const auto at = [&](std::size_t k) { return number[std::size_t(t[k])]; };
        pieces[sets.root(t[0])].triangles.push_back({at(0), at(1), at(2)});
    }
    TriangleMesh* largest = nullptr;
    double most = 0;
    for (auto& [name, piece] : pieces) {
        const double volume = volume_moments(piece).amount;
        if (volume <= most) continue;
        most = volume;
        largest = &piece;
    }
    dropped = int(pieces.size()) - (largest ? 1 : 0);
    return largest ? std::move(*largest) : TriangleMesh{};
}

}  // namespace evenspit::scan
