// SPDX-License-Identifier: MIT
#include "body/mesher.h"

#include <array>
#include <cmath>
#include <cstdint>
#include <stdexcept>
#include <unordered_map>
#include <utility>
#include <vector>

#include "units/parallel.h"

namespace evenspit::body {
namespace {

// Cubes with a point at every corner and one in every middle. The tetrahedra stand on the edges of each face
// that two cubes share, with an apex in either cube's middle.
class Lattice {
  public:
    Lattice(const Box3& box, double spacing) : spacing_(spacing) {
        // One cube of margin, so that the border lies outside the solid.
        const auto cubes = [&](double from, double to) { return std::ceil((to - from) / spacing) + 2; };
        const double half_width = std::max(std::abs(box.min().y()), std::abs(box.max().y()));
        const std::array<double, 3> count{cubes(box.min().x(), box.max().x()),
                                          2 * (std::ceil(half_width / spacing) + 1),
                                          cubes(box.min().z(), box.max().z())};
        if (2 * count[0] * count[1] * count[2] > 30e6)
            throw std::invalid_argument("too fine a lattice for the box");
        for (std::size_t k = 0; k < 3; ++k) n_[k] = static_cast<int>(count[k]);
        // y is counted from the mid-plane, so that mirror images come out to the last bit.
        start_ = Vec3(box.min().x() - spacing, -0.5 * n_[1] * spacing, box.min().z() - spacing);
    }

    [[nodiscard]] int cubes(std::size_t axis) const { return n_[axis]; }
    [[nodiscard]] double spacing() const { return spacing_; }
    [[nodiscard]] std::size_t corners() const {
        return std::size_t(n_[0] + 1) * std::size_t(n_[1] + 1) * std::size_t(n_[2] + 1);
    }
    [[nodiscard]] std::size_t size() const {
        return corners() + std::size_t(n_[0]) * std::size_t(n_[1]) * std::size_t(n_[2]);
    }

    [[nodiscard]] std::int32_t corner(int i, int j, int k) const {
        return static_cast<std::int32_t>((std::int64_t(i) * (n_[1] + 1) + j) * (n_[2] + 1) + k);
    }
    [[nodiscard]] std::int32_t middle(int i, int j, int k) const {
        return static_cast<std::int32_t>(std::int64_t(corners()) + (std::int64_t(i) * n_[1] + j) * n_[2] + k);
    }
    // The point on the other side of y = 0, and whether a point stands before it.
    [[nodiscard]] std::int32_t mirror_image(std::int32_t point) const {
        const auto [at, rows, count] = row_of(point);
        return point + (rows - 1 - 2 * at) * count;
    }
    [[nodiscard]] bool is_left(std::int32_t point) const {
        const auto [at, rows, count] = row_of(point);
        return 2 * at < rows - 1;
    }
    // Place of the point that stands half steps (i, j, k) from the start.
    [[nodiscard]] Vec3 at_half_steps(int i, int j, int k) const {
        return {start_.x() + 0.5 * spacing_ * i, 0.5 * spacing_ * (j - n_[1]),
                start_.z() + 0.5 * spacing_ * k};
    }

  private:
    // Which of how many rows along y a point stands in, and how many points one has.
    struct Row {
        std::int32_t at, rows, points;
    };
    [[nodiscard]] Row row_of(std::int32_t point) const {
        const auto first_middle = static_cast<std::int32_t>(corners());
        if (point < first_middle) return {point / (n_[2] + 1) % (n_[1] + 1), n_[1] + 1, n_[2] + 1};
        return {(point - first_middle) / n_[2] % n_[1], n_[1], n_[2]};
    }

    std::array<int, 3> n_{};
    double spacing_;
    Vec3 start_;
};

// The field at the lattice's points, and where the points stand after they have been pushed off the surface.
struct Samples {
    std::vector<double> value;
    std::vector<Vec3> place;
    std::vector<std::uint8_t>
        known;  ///< how each was found; what is far has no surface within a cube's reach
};
enum : std::uint8_t { unknown, is_far, is_near };

// Nearer than this share of the spacing no point may stand to the surface. Two neighbours pushed against each
// other by a fifth leave every tetrahedron upright: their least height is 0.707 of the spacing.
constexpr double clear_distance = 0.18;

class Sampler {
  public:
    Sampler(const Field& field, const Lattice& lattice, const MesherOptions& options)
        : field_(field),
          lattice_(lattice),
          steepest_(options.steepest),
          first_row_(options.is_even ? lattice.cubes(1) / 2 : 0) {}

    Samples run() {
        samples_.value.assign(lattice_.size(), 0.0);
        samples_.place.assign(lattice_.size(), Vec3::Zero());
        samples_.known.assign(lattice_.size(), unknown);
        // Blocks side by side share points: first every other layer of them, then those between. A point that
        // is near is the same whoever asks first; of one that is far only the side counts.
        const std::size_t layers = std::size_t(lattice_.cubes(0) + block_cells - 1) / block_cells;
        for (const std::size_t odd : {0U, 1U}) {
            parallel_for((layers + 1 - odd) / 2,
                         [&](std::size_t first, std::size_t last) {
                             for (std::size_t n = first; n < last; ++n)
                                 layer(static_cast<int>(2 * n + odd) * block_cells);
                         },
                         1);
        }
        if (first_row_ > 0) mirror();
        return std::move(samples_);
    }

  private:
    // Makes the half that was not asked from the other.
    void mirror() {
        parallel_for(lattice_.size(), [&](std::size_t first, std::size_t last) {
            for (std::size_t to = first; to < last; ++to) {
                const auto point = static_cast<std::int32_t>(to);
                if (!lattice_.is_left(point)) continue;
                const auto from = static_cast<std::size_t>(lattice_.mirror_image(point));
                const Vec3& place = samples_.place[from];
                samples_.value[to] = samples_.value[from];
                samples_.known[to] = samples_.known[from];
                samples_.place[to] = Vec3(place.x(), -place.y(), place.z());
            }
        });
    }

    void layer(int i) {
        for (int j = first_row_; j < lattice_.cubes(1); j += block_cells) {
            for (int k = 0; k < lattice_.cubes(2); k += block_cells) block(i, j, k, block_cells);
        }
    }

    static constexpr int block_cells = 4, least_cells = 2;

    // How far from its middle a block has anything to do with: with one cube more all round it holds every
    // edge that starts in it.
    [[nodiscard]] double reach(const Vec3& cells) const {
        return lattice_.spacing() * (0.5 * cells.norm() + 1.7);
    }

    void block(int i0, int j0, int k0, int cells) {
        const int i1 = std::min(i0 + cells, lattice_.cubes(0)), j1 = std::min(j0 + cells, lattice_.cubes(1)),
                  k1 = std::min(k0 + cells, lattice_.cubes(2));
        const Vec3 centre = lattice_.at_half_steps(i0 + i1, j0 + j1, k0 + k1);
        const double middle = field_(centre);
        const bool near = std::abs(middle) <= steepest_ * reach(Vec3(i1 - i0, j1 - j0, k1 - k0));
        const int half = cells / 2;
        // A part whose middle is as far off as this one's corner may be far, though the whole is not.
        const double offset = lattice_.spacing() * Vec3::Constant(0.5 * half).norm();
        if (near && half >= least_cells &&
            std::abs(middle) > steepest_ * (reach(Vec3::Constant(half)) - offset)) {
            for (int i = i0; i < i1; i += half) {
                for (int j = j0; j < j1; j += half) {
                    for (int k = k0; k < k1; k += half) block(i, j, k, half);
                }
            }
            return;
        }
        // Of what is further from the surface than an edge, and a push at either end, the side is enough.
        const double edge = 1.4 * lattice_.spacing();
        const auto look = [&](std::int32_t index, const Vec3& place) {
            const bool may_matter = std::abs(middle) <= steepest_ * ((place - centre).norm() + edge);
            point(index, place, near && may_matter, middle);
        };
        for (int i = i0; i <= i1; ++i) {
            for (int j = j0; j <= j1; ++j) {
                for (int k = k0; k <= k1; ++k) {
                    look(lattice_.corner(i, j, k), lattice_.at_half_steps(2 * i, 2 * j, 2 * k));
                    if (i == i1 || j == j1 || k == k1) continue;
                    look(lattice_.middle(i, j, k), lattice_.at_half_steps(2 * i + 1, 2 * j + 1, 2 * k + 1));
                }
            }
        }
    }

    void point(std::int32_t index, const Vec3& place, bool near, double far_value) {
        const auto at = static_cast<std::size_t>(index);
        std::uint8_t& known = samples_.known[at];
        if (known == is_near || (known == is_far && !near)) return;
        known = near ? is_near : is_far;
        samples_.place[at] = place;
        samples_.value[at] = near ? field_(place) : far_value;
        if (near) push_off(samples_.place[at], samples_.value[at]);
    }

    void push_off(Vec3& place, double& value) const {
        const double clear = clear_distance * lattice_.spacing();
        if (std::abs(value) >= clear) return;
        const double step = 1e-3 * lattice_.spacing();
        Vec3 gradient;
        for (int k = 0; k < 3; ++k) {
            const Vec3 d = step * Vec3::Unit(k);
            gradient[k] = (field_(place + d) - field_(place - d)) / (2 * step);
        }
        const double steepness = gradient.norm();
        if (!(steepness > 0.05)) return;  // a flat spot: leave it, a needle does no harm
        const double side = value < 0 ? -1 : 1;
        const Vec3 moved =
            place + side * (clear - std::abs(value)) / std::max(steepness, 1.0) / steepness * gradient;
        const double moved_value = field_(moved);
        if (moved_value * side > std::abs(value)) {
            place = moved;
            value = moved_value;
        }
    }

    const Field& field_;
    const Lattice& lattice_;
    double steepest_;
    int first_row_;
    Samples samples_;
};

using Tetrahedron = std::array<std::int32_t, 4>;

// Cuts tetrahedra along the surface and gathers the pieces.
class Cutter {
  public:
    Cutter(const Field& field, const Lattice& lattice, const Samples& samples, bool is_even)
        : field_(field), lattice_(lattice), samples_(samples), is_even_(is_even) {}

    [[nodiscard]] bool are_on_one_side(const std::array<std::int32_t, 6>& points) const {
        unsigned inside = 0;
        for (const std::int32_t point : points) inside += value(point) < 0 ? 1U : 0U;
        return inside == 0 || inside == points.size();
    }

    /// `t` positively oriented: (t1−t0, t2−t0, t3−t0) right-handed.
    void cut(const Tetrahedron& t) {
        unsigned inside = 0;
        for (unsigned k = 0; k < 4; ++k) inside |= (value(t[k]) < 0 ? 1U : 0U) << k;
        if (inside == 0 || inside == 15) return;
        // Even permutations that bring the corners on the lesser side to the front.
        static constexpr std::array<std::array<std::uint8_t, 4>, 16> corner_order{{{},
                                                                                   {0, 1, 2, 3},
                                                                                   {1, 0, 3, 2},
                                                                                   {0, 1, 2, 3},
                                                                                   {2, 3, 0, 1},
                                                                                   {0, 2, 3, 1},
                                                                                   {1, 2, 0, 3},
                                                                                   {3, 2, 1, 0},
                                                                                   {3, 2, 1, 0},
                                                                                   {0, 3, 1, 2},
                                                                                   {1, 3, 2, 0},
                                                                                   {2, 3, 0, 1},
                                                                                   {2, 3, 0, 1},
                                                                                   {1, 0, 3, 2},
                                                                                   {0, 1, 2, 3},
                                                                                   {}}};
        const auto& order = corner_order[inside];
        const std::int32_t a = t[order[0]], b = t[order[1]], c = t[order[2]], d = t[order[3]];
        const bool a_inside = value(a) < 0;
        if ((value(b) < 0) == a_inside) {
            // Only the pairs listed with a and b inside come here.
            const std::int32_t ac = vertex(a, c), ad = vertex(a, d), bd = vertex(b, d), bc = vertex(b, c);
            cuts_.push_back({ac, ad, bd, bc});
        } else if (a_inside) {
            const std::int32_t ab = vertex(a, b), ac = vertex(a, c), ad = vertex(a, d);
            cuts_.push_back({ab, ac, ad, none});
        } else {
            const std::int32_t ab = vertex(a, b), ad = vertex(a, d), ac = vertex(a, c);
            cuts_.push_back({ab, ad, ac, none});
        }
    }

    /// The surface, once all tetrahedra are cut.
    TriangleMesh take() {
        mesh_.vertices.resize(edges_.size());
        parallel_for(edges_.size(), [&](std::size_t first, std::size_t last) {
            for (std::size_t v = first; v < last; ++v) {
                const auto [p, q] = edges_[v];
                if (has_mirror_image(p, q)) continue;
                mesh_.vertices[v] = crossing(place(p), value(p), place(q), value(q));
            }
        });
        for (std::size_t v = 0; v < edges_.size(); ++v) {
            const auto [p, q] = edges_[v];
            if (!has_mirror_image(p, q)) continue;
            const auto other = on_edge_.find(key(lattice_.mirror_image(p), lattice_.mirror_image(q)));
            const Vec3& there = mesh_.vertices[static_cast<std::size_t>(other->second)];
            mesh_.vertices[v] = Vec3(there.x(), -there.y(), there.z());
        }
        for (const auto& [a, b, c, d] : cuts_) {
            if (d == none) {
                mesh_.triangles.push_back({a, b, c});
            } else {
                quad(a, b, c, d);
            }
        }
        return std::move(mesh_);
    }

  private:
    static constexpr std::int32_t none = -1;

    [[nodiscard]] double value(std::int32_t point) const {
        return samples_.value[static_cast<std::size_t>(point)];
    }
    [[nodiscard]] const Vec3& place(std::int32_t point) const {
        return samples_.place[static_cast<std::size_t>(point)];
    }

    // Along the shorter diagonal; a tie is broken the same way on either side of y = 0.
    void quad(std::int32_t a, std::int32_t b, std::int32_t c, std::int32_t d) {
        const auto at = [&](std::int32_t v) -> const Vec3& {
            return mesh_.vertices[static_cast<std::size_t>(v)];
        };
        const double ac = (at(a) - at(c)).squaredNorm(), bd = (at(b) - at(d)).squaredNorm();
        const auto rank = [&](std::int32_t v) {
            return std::array{at(v).x(), std::abs(at(v).y()), at(v).z()};
        };
        const bool along_ac = ac != bd ? ac < bd : std::min(rank(a), rank(c)) < std::min(rank(b), rank(d));
        if (along_ac) {
            mesh_.triangles.push_back({a, b, c});
            mesh_.triangles.push_back({a, c, d});
        } else {
            mesh_.triangles.push_back({b, c, d});
            mesh_.triangles.push_back({b, d, a});
        }
    }

    static std::uint64_t key(std::int32_t p, std::int32_t q) {
        return (std::uint64_t(std::uint32_t(p)) << 32) | std::uint32_t(q);
    }
    // Whether its crossing is that of an edge on the other side.
    [[nodiscard]] bool has_mirror_image(std::int32_t p, std::int32_t q) const {
        return is_even_ && (lattice_.is_left(p) || lattice_.is_left(q));
    }

    std::int32_t vertex(std::int32_t p, std::int32_t q) {
        if (value(p) > value(q)) std::swap(p, q);
        const auto [entry, fresh] = on_edge_.try_emplace(key(p, q), static_cast<std::int32_t>(edges_.size()));
        if (fresh) edges_.emplace_back(p, q);
        return entry->second;
    }

    // Where the field is zero between an inner and an outer point: false position, with the kept end's value
    // halved (Illinois) so that it cannot stick. Stays off the ends, so that cuts of neighbouring edges never
    // meet.
    [[nodiscard]] Vec3 crossing(const Vec3& inner, double low, const Vec3& outer, double high) const {
        constexpr double end_margin = 1e-3;
        double from = 0, to = 1, t = 0.5;
        for (int round = 0; round < 3; ++round) {
            t = from + (to - from) * low / (low - high);
            if (round == 2) break;
            const double here = field_(inner + t * (outer - inner));
            if (std::abs(here) < 1e-3 * std::abs(high - low)) break;
            if (here < 0) {
                from = t;
                low = here;
                high *= 0.5;
            } else {
                to = t;
                high = here;
                low *= 0.5;
            }
        }
        return inner + std::clamp(t, end_margin, 1 - end_margin) * (outer - inner);
    }

    const Field& field_;
    const Lattice& lattice_;
    const Samples& samples_;
    bool is_even_;
    std::unordered_map<std::uint64_t, std::int32_t> on_edge_;
    std::vector<std::pair<std::int32_t, std::int32_t>> edges_;  // by vertex: the inner end and the outer
    std::vector<Tetrahedron>
        cuts_;  // vertices of each cut, in order round it; of a triangle the last is none
    TriangleMesh mesh_;
};

// All tetrahedra on the faces between the cubes (i,j,k) and the next one along `axis`.
void cut_across(const Lattice& lattice, std::size_t axis, int i, int j, int k, Cutter& cutter) {
    const std::size_t u = (axis + 1) % 3, v = (axis + 2) % 3;
    std::array<int, 3> next{i, j, k};
    next[axis] += 1;
    const std::int32_t here = lattice.middle(i, j, k), there = lattice.middle(next[0], next[1], next[2]);
    std::array<std::int32_t, 4> rim{};
    constexpr std::array<std::pair<int, int>, 4> around{{{0, 0}, {1, 0}, {1, 1}, {0, 1}}};
    for (std::size_t m = 0; m < 4; ++m) {
        std::array<int, 3> at = next;
        at[u] += around[m].first;
        at[v] += around[m].second;
        rim[m] = lattice.corner(at[0], at[1], at[2]);
    }
    if (cutter.are_on_one_side({here, there, rim[0], rim[1], rim[2], rim[3]})) return;
    for (std::size_t m = 0; m < 4; ++m) cutter.cut({here, there, rim[m], rim[(m + 1) % 4]});
}

// The outermost tetrahedra have no neighbours: a surface that reached them would be left open.
void require_clear_border(const Lattice& lattice, const Samples& samples) {
    const int nx = lattice.cubes(0), ny = lattice.cubes(1), nz = lattice.cubes(2);
    const auto require_outside = [&](std::int32_t point) {
        if (samples.value[static_cast<std::size_t>(point)] < 0) {
            throw std::runtime_error("the solid reaches the border of its box");
        }
    };
    const auto on_border = [](int i, int count) { return i == 0 || i == count; };
    for (int i = 0; i <= nx; ++i) {
        for (int j = 0; j <= ny; ++j) {
            for (int k = 0; k <= nz; ++k) {
                if (on_border(i, nx) || on_border(j, ny) || on_border(k, nz))
                    require_outside(lattice.corner(i, j, k));
                if (i == nx || j == ny || k == nz) continue;
                if (on_border(i, nx - 1) || on_border(j, ny - 1) || on_border(k, nz - 1)) {
                    require_outside(lattice.middle(i, j, k));
                }
            }
        }
    }
}

}  // namespace

TriangleMesh mesh_field(const Field& field, const MesherOptions& options) {
    if (options.box.isEmpty() || !(options.spacing > 0)) {
        throw std::invalid_argument("a mesher needs a box and a spacing");
    }
    const Lattice lattice(options.box, options.spacing);
    const Samples samples = Sampler(field, lattice, options).run();
    const int nx = lattice.cubes(0), ny = lattice.cubes(1), nz = lattice.cubes(2);
    require_clear_border(lattice, samples);
    Cutter cutter(field, lattice, samples, options.is_even);
    for (int i = 0; i < nx; ++i) {
        for (int j = 0; j < ny; ++j) {
            for (int k = 0; k < nz; ++k) {
                if (samples.known[static_cast<std::size_t>(lattice.middle(i, j, k))] == is_far) continue;
                if (i + 1 < nx) cut_across(lattice, 0, i, j, k, cutter);
                if (j + 1 < ny) cut_across(lattice, 1, i, j, k, cutter);
                if (k + 1 < nz) cut_across(lattice, 2, i, j, k, cutter);
            }
        }
    }
    return cutter.take();
}

}  // namespace evenspit::body
