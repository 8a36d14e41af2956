// SPDX-License-Identifier: MIT
#include "roast/tissue_cells.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "roast/body_foods.h"
#include "units/parallel.h"

namespace evenspit {
namespace {

// By cell, the part other than the flesh whose mesh holds its centre, 0 for none. Children come after
// parents.
std::vector<std::uint8_t> parts_of_cells(const body::PreparedBody& body, const CellBox& box) {
    std::vector<std::uint8_t> part(box.size(), 0);
    const double h = box.spacing_m;
    const std::vector<body::Part>& parts = body.body.parts;
    for (std::size_t p = 1; p < std::min<std::size_t>(parts.size(), 256); ++p) {
        if (parts[p].kind == body::PartKind::cavity) continue;
        const Box3 around = bounds(parts[p].mesh);
        const auto first_row = [&](int axis) {
            const double at = (around.min()[axis] - box.origin[axis]) / h - 0.5;
            return std::clamp(static_cast<std::int32_t>(std::ceil(at)), 0, box.count[std::size_t(axis)]);
        };
        const auto past_row = [&](int axis) {
            const double at = (around.max()[axis] - box.origin[axis]) / h + 0.5;
            return std::clamp(static_cast<std::int32_t>(std::floor(at)), 0, box.count[std::size_t(axis)]);
        };
        for (std::int32_t k = first_row(2); k < past_row(2); ++k) {
            for (std::int32_t j = first_row(1); j < past_row(1); ++j) {
                const Vec3 from = box.origin + h * Vec3(0, j + 0.5, k + 0.5);
                const Vec3 to = from + h * Vec3(box.count[0], 0, 0);
                for (const Interval& stretch : body.queries[p].inside(from, to)) {
                    const auto first = static_cast<std::int32_t>(std::ceil(stretch.from / h - 0.5));
                    const auto past = static_cast<std::int32_t>(std::floor(stretch.to / h + 0.5));
                    for (std::int32_t i = first; i < std::min(past, box.count[0]); ++i)
                        part[box.index(i, j, k)] = static_cast<std::uint8_t>(p);
                }
            }
        }
    }
    return part;
}

// By cell with a temperature, the piece of the outside nearest to its centre: handed on from neighbour to
// neighbour, to and fro, which is right to a fraction of a cell.
class NearestPieces {
  public:
    NearestPieces(const HeatGrid& grid, const std::vector<SurfacePiece>& pieces,
                  const std::vector<std::int32_t>& facing)
        : grid_(grid), pieces_(pieces), nearest_(grid.box.size(), -1) {
        for (std::size_t n = 0; n < pieces.size(); ++n) {
            const std::int32_t owner = grid.owner[std::size_t(pieces[n].cell)];
            if (owner >= 0 && facing[std::size_t(pieces[n].triangle)] < 0)
                take(std::size_t(owner), static_cast<std::int32_t>(n));
        }
        constexpr int rounds = 2;
        const auto length = std::size_t(grid.box.count[0]);
        for (int round = 0; round < rounds; ++round) {
            for (std::size_t row = 0; row < grid.rows.size(); ++row) {
                for (std::int32_t i = grid.rows[row][0]; i < grid.rows[row][1]; ++i)
                    ask_neighbours(row * length + std::size_t(i));
            }
            for (std::size_t row = grid.rows.size(); row-- > 0;) {
                for (std::int32_t i = grid.rows[row][1]; i-- > grid.rows[row][0];)
                    ask_neighbours(row * length + std::size_t(i));
            }
        }
    }

    // −1 if the outside is not connected with the cell.
    [[nodiscard]] std::int32_t at(std::size_t cell) const { return nearest_[cell]; }
    [[nodiscard]] double depth_m(std::size_t cell) const {
        if (nearest_[cell] < 0) return std::numeric_limits<double>::infinity();
        const SurfacePiece& piece = pieces_[std::size_t(nearest_[cell])];
        const Vec3 from = piece.centre - grid_.box.centre(cell);
        // Close to the surface the piece's plane is nearer than its middle.
        constexpr double close = 4;
        const bool is_close = from.squaredNorm() < std::pow(close * grid_.box.spacing_m, 2);
        return is_close ? std::max(0.0, from.dot(piece.normal)) : from.norm();
    }

  private:
    void take(std::size_t cell, std::int32_t piece) {
        const Vec3 centre = grid_.box.centre(cell);
        const auto squared = [&](std::int32_t n) {
            return (pieces_[std::size_t(n)].centre - centre).squaredNorm();
        };
        if (nearest_[cell] < 0 || squared(piece) < squared(nearest_[cell])) nearest_[cell] = piece;
    }
    void ask_neighbours(std::size_t cell) {
        if (!grid_.carries(cell)) return;
        for (int axis = 0; axis < 3; ++axis) {
            const std::size_t stride = grid_.box.stride(axis);
            for (const std::size_t next : {cell - stride, cell + stride}) {
                if (nearest_[next] >= 0 && nearest_[next] != nearest_[cell]) take(cell, nearest_[next]);
            }
        }
    }

    const HeatGrid& grid_;
    const std::vector<SurfacePiece>& pieces_;
    std::vector<std::int32_t> nearest_;
};

double density_of(const body::Body& body, const Tissue& tissue) {
    if (tissue.part == 0 && tissue.region >= 0) {
        for (const body::RegionFlesh& flesh : body.flesh_by_region) {
            if (flesh.region.name == body.region_table[std::size_t(tissue.region)].name)
                return flesh.density_kg_m3;
        }
    }
    return body.parts[std::size_t(tissue.part)].density_kg_m3;
}

struct FleshCell {
    std::size_t cell = 0;
    int region = -1;
    double depth_m = 0, volume_m3 = 0;
};

// Which cells are skin: of each region the outermost, as many as have the volume of its skin.
std::vector<bool> outermost(const std::vector<FleshCell>& flesh, const std::vector<double>& skin_m3) {
    std::vector<bool> is_skin(flesh.size(), false);
    std::vector<std::vector<std::size_t>> of_region(skin_m3.size());
    for (std::size_t n = 0; n < flesh.size(); ++n) {
        if (flesh[n].region >= 0) of_region[std::size_t(flesh[n].region)].push_back(n);
    }
    for (std::size_t r = 0; r < of_region.size(); ++r) {
        std::vector<std::size_t>& cells = of_region[r];
        std::stable_sort(cells.begin(), cells.end(),
                         [&](std::size_t a, std::size_t b) { return flesh[a].depth_m < flesh[b].depth_m; });
        double left = skin_m3[r];
        for (const std::size_t n : cells) {
            left -= flesh[n].volume_m3;
            if (left < -flesh[n].volume_m3 / 2) break;
            is_skin[n] = true;
        }
    }
    return is_skin;
}

// Numbers tissues in the order in which they are met.
class TissueList {
  public:
    TissueList(const body::Body& body, std::vector<Tissue>& tissues) : body_(body), tissues_(tissues) {}

    std::uint8_t number(TissueKind kind, int part, int region) {
        for (std::size_t n = 0; n < tissues_.size(); ++n) {
            const Tissue& known = tissues_[n];
            if (known.kind == kind && known.part == part && known.region == region)
                return static_cast<std::uint8_t>(n);
        }
        if (tissues_.size() == 256) throw std::invalid_argument("a body of more than 256 tissues");
        Tissue tissue{kind, part, region};
        tissue.density_kg_m3 = density_of(body_, tissue);
        tissues_.push_back(tissue);
        return static_cast<std::uint8_t>(tissues_.size() - 1);
    }

  private:
    const body::Body& body_;
    std::vector<Tissue>& tissues_;
};

}  // namespace

void name_tissues(const body::PreparedBody& prepared, const std::vector<SurfacePiece>& pieces,
                  const std::vector<std::int32_t>& facing, HeatGrid& grid) {
    const body::Body& body = prepared.body;
    const std::vector<std::uint8_t> parts = parts_of_cells(prepared, grid.box);
    const std::vector<std::uint8_t>& regions = body.parts.front().regions;
    const NearestPieces nearest(grid, pieces, facing);
    const double cube = std::pow(grid.box.spacing_m, 3);

    std::vector<FleshCell> flesh;
    for (std::size_t cell = 0; cell < grid.box.size(); ++cell) {
        if (!grid.carries(cell) || parts[cell] > 0) continue;
        FleshCell here{cell};
        const std::int32_t piece = nearest.at(cell);
        if (piece >= 0 && std::size_t(pieces[std::size_t(piece)].triangle) < regions.size())
            here.region = regions[std::size_t(pieces[std::size_t(piece)].triangle)];
        here.depth_m = nearest.depth_m(cell);
        here.volume_m3 = static_cast<double>(grid.filled[cell]) * cube;
        flesh.push_back(here);
    }
    const std::vector<bool> is_skin = outermost(flesh, skin_volumes_m3(body));

    TissueList tissues(body, grid.tissues);
    grid.tissue.assign(grid.box.size(), 0);
    std::size_t next = 0;
    for (std::size_t cell = 0; cell < grid.box.size(); ++cell) {
        if (!grid.carries(cell)) continue;
        const std::uint8_t part = parts[cell];
        std::uint8_t number = 0;
        if (part > 0) {
            const bool is_bone = body.parts[part].kind == body::PartKind::bone;
            number = tissues.number(is_bone ? TissueKind::bone : TissueKind::stuffing, part, -1);
        } else {
            const TissueKind kind = is_skin[next] ? TissueKind::skin : TissueKind::lean;
            number = tissues.number(kind, 0, flesh[next].region);
            ++next;
        }
        grid.tissue[cell] = number;
        grid.tissues[number].volume_m3 += grid.filled[cell] * cube;
    }
}

}  // namespace evenspit
