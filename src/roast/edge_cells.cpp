// SPDX-License-Identifier: MIT
#include "roast/edge_cells.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

namespace evenspit {
namespace {

constexpr float enough = 0.5f;
constexpr float speck = 0.01f;        // of a cube
constexpr float nothing = 1e-5f;      // of a face: rounding
constexpr float least_share = 0.02f;  // smaller ones go to the others
// Faces by cubes of capacity: six in the inside.
constexpr float soft = 7, stiffest_lender = 8.5f;

using Inner = EdgeCells::Inner;

class EdgeFinder {
  public:
    explicit EdgeFinder(CellCuts& cuts) : box_(cuts.box()), filled_(cuts.filled()), open_(cuts.open()) {
        for (int axis = 0; axis < 3; ++axis) strides_[std::size_t(axis)] = box_.stride(axis);
    }

    EdgeCells found() {
        EdgeCells out;
        number_edges(out);
        for (std::size_t n = 0; n < edges_.size(); ++n) find_inner(n, out);
        out.filled.assign(box_.size(), 0.0f);
        for (std::size_t cell = 0; cell < box_.size(); ++cell) {
            if (out.owner[cell] >= 0) out.filled[cell] = filled_[cell];
        }
        give_specks(out);
        connect(out);
        for (std::size_t n = 0; n < edges_.size(); ++n) {
            lend(edges_[n], inner_[n], out);
            out.first_inner_.push_back(out.inner_.size());
            out.inner_.insert(out.inner_.end(), inner_[n].begin(), inner_[n].end());
            const auto most =
                std::max_element(inner_[n].begin(), inner_[n].end(),
                                 [](const Inner& a, const Inner& b) { return a.share < b.share; });
            out.owner[edges_[n]] = most->cell;
        }
        out.first_inner_.push_back(out.inner_.size());
        return out;
    }

  private:
    // The neighbours with their areas and where they lie; the box has a margin all round.
    template <class Work>
    void for_neighbours(std::size_t cell, const Work& work) const {
        for (std::size_t axis = 0; axis < 3; ++axis) {
            work(cell + strides_[axis], open_[axis][cell], axis, 1.0f);
            work(cell - strides_[axis], open_[axis][cell - strides_[axis]], axis, -1.0f);
        }
    }

    void number_edges(EdgeCells& out) {
        out.owner.assign(box_.size(), -1);
        out.edge_.assign(box_.size(), -1);
        for (std::size_t cell = 0; cell < box_.size(); ++cell) {
            if (!(filled_[cell] > speck)) continue;
            out.owner[cell] = static_cast<std::int32_t>(cell);
            if (filled_[cell] >= enough) continue;
            out.edge_[cell] = static_cast<std::int32_t>(edges_.size());
            edges_.push_back(cell);
        }
        inner_.resize(edges_.size());
        looked_at_.assign(edges_.size(), false);
    }

    static void add(std::vector<Inner>& all, std::int32_t cell, float share) {
        const auto known =
            std::find_if(all.begin(), all.end(), [&](const Inner& i) { return i.cell == cell; });
        if (known != all.end()) {
            known->share += share;
        } else {
            all.push_back({cell, share});
        }
    }

    // The sum of the areas out of a cell points inward; heat that comes straight in passes through each face
    // by its area times its slant. A cell of a thin flap, with no fuller one inward, stands for itself.
    void find_inner(std::size_t n, const EdgeCells& out) {
        if (looked_at_[n]) return;
        looked_at_[n] = true;
        const std::size_t cell = edges_[n];
        std::array<float, 3> inward{};
        for_neighbours(cell, [&](std::size_t, float area, std::size_t axis, float side) {
            inward[axis] += area * side;
        });
        std::vector<Inner> all;
        for_neighbours(cell, [&](std::size_t next, float area, std::size_t axis, float side) {
            const float weight = area * std::max(0.0f, side * inward[axis]);
            if (!(area > nothing) || !(weight > 0) || out.owner[next] < 0) return;
            if (out.edge_[next] < 0) {
                add(all, static_cast<std::int32_t>(next), weight);
            } else {
                const auto other = std::size_t(out.edge_[next]);
                find_inner(other, out);
                for (const Inner& i : inner_[other]) {
                    if (std::size_t(i.cell) != edges_[other]) add(all, i.cell, weight * i.share);
                }
            }
        });
        keep_greatest(all);
        if (all.empty()) all.push_back({static_cast<std::int32_t>(cell), 1});
        inner_[n] = std::move(all);
    }

    static void keep_greatest(std::vector<Inner>& all) {
        for (const bool last : {false, true}) {
            float sum = 0;
            for (const Inner& i : all) sum += i.share;
            for (Inner& i : all) i.share /= sum;
            if (!last) std::erase_if(all, [](const Inner& i) { return i.share < least_share; });
        }
    }

    void give_specks(EdgeCells& out) const {
        std::vector<std::pair<std::size_t, std::int32_t>> given;
        for (std::size_t cell = 0; cell < box_.size(); ++cell) {
            if (out.owner[cell] >= 0 || !(filled_[cell] > 0)) continue;
            std::int32_t best = -1;
            float widest = 0;
            for_neighbours(cell, [&](std::size_t next, float area, std::size_t, float) {
                if (out.owner[next] < 0 || !(area > widest)) return;
                widest = area;
                best = static_cast<std::int32_t>(next);
            });
            if (best >= 0) {
                given.emplace_back(cell, best);
            } else {
                out.lost += static_cast<double>(filled_[cell]);
            }
        }
        for (const auto& [cell, best] : given) {
            out.filled[std::size_t(best)] += filled_[cell];
            out.owner[cell] = best;
        }
    }

    void connect(EdgeCells& out) const {
        for (std::size_t axis = 0; axis < 3; ++axis) {
            out.open[axis].assign(box_.size(), 0.0f);
            for (std::size_t cell = 0; cell + strides_[axis] < box_.size(); ++cell) {
                const bool both = out.filled[cell] > 0 && out.filled[cell + strides_[axis]] > 0;
                if (both && open_[axis][cell] > nothing) out.open[axis][cell] = open_[axis][cell];
            }
        }
    }

    // The faces of a cell, with its share of the surface, which is the sum of their areas as vectors.
    [[nodiscard]] float faces(std::size_t cell) const {
        float sum = 0;
        std::array<float, 3> inward{};
        for_neighbours(cell, [&](std::size_t, float area, std::size_t axis, float side) {
            sum += area;
            inward[axis] += area * side;
        });
        return sum + std::sqrt(inward[0] * inward[0] + inward[1] * inward[1] + inward[2] * inward[2]);
    }

    // From the cells inward, and where those have little to spare from the ones round them.
    void lend(std::size_t cell, const std::vector<Inner>& lenders, EdgeCells& out) const {
        float needed = faces(cell) / soft - out.filled[cell];
        const auto take = [&](std::size_t lender, float most) {
            if (lender == cell || out.edge_[lender] >= 0 || !(needed > 0)) return;
            const float spare = out.filled[lender] - faces(lender) / stiffest_lender;
            const float lent = std::clamp(spare, 0.0f, std::min(most, needed));
            out.filled[lender] -= lent;
            out.filled[cell] += lent;
            needed -= lent;
        };
        const float all = needed;
        for (const Inner& i : lenders) take(std::size_t(i.cell), i.share * all);
        for (const Inner& i : lenders) {
            for_neighbours(std::size_t(i.cell), [&](std::size_t next, float area, std::size_t, float) {
                if (area > nothing && out.filled[next] > 0) take(next, needed);
            });
        }
    }

    const CellBox& box_;
    const std::vector<float>& filled_;
    const std::array<std::vector<float>, 3>& open_;
    std::array<std::size_t, 3> strides_{};
    std::vector<std::size_t> edges_;
    std::vector<std::vector<Inner>> inner_;  // by edge cell
    std::vector<bool> looked_at_;
};

}  // namespace

EdgeCells find_edge_cells(CellCuts& cuts) {
    return EdgeFinder(cuts).found();
}

}  // namespace evenspit
