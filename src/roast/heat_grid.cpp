// SPDX-License-Identifier: MIT
#include "roast/heat_grid.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>
#include <tuple>
#include <utility>

#include "body/cavity_wall.h"
#include "roast/edge_cells.h"
#include "roast/tissue_cells.h"

namespace evenspit {
namespace {

constexpr std::size_t most_cells = 200'000'000;
// Stuffing is shaped half a millimetre off the wall, see BirdShape::cavity_piece().
constexpr double contact_gap_m = 0.001;
// Of a cube: no patch lies nearer to its cell's centre.
constexpr double least_depth = 0.05;

bool is_hollow(const body::Part& part) {
    return part.kind == body::PartKind::cavity && part.parent >= 0;
}

// The cavity whose wall is the skin's own, −1 if there is none.
int open_cavity(const body::Body& body) {
    for (std::size_t p = 0; p < body.parts.size(); ++p) {
        if (body.parts[p].kind == body::PartKind::cavity && body.parts[p].parent < 0)
            return static_cast<int>(p);
    }
    return -1;
}

// Which enclosure a triangle faces.
class EnclosureFinder {
  public:
    EnclosureFinder(const body::Body& body, HeatGrid& grid)
        : body_(body), grid_(grid), open_(open_cavity(body)) {}

    std::int32_t facing(const GridSurface& surface, std::int32_t triangle) {
        const body::Part& part = body_.parts[std::size_t(surface.part)];
        if (part.kind == body::PartKind::cavity) return enclosure_of(surface.part);
        if (part.kind == body::PartKind::stuffing) return enclosure_of(part.parent);
        const bool is_wall =
            !part.regions.empty() &&
            body_.region_table[part.regions[std::size_t(triangle)]].kind == body::RegionKind::cavity_wall;
        return is_wall ? enclosure_of(open_) : -1;
    }

  private:
    std::int32_t enclosure_of(int part) {
        std::vector<Enclosure>& all = grid_.enclosures;
        const auto found =
            std::find_if(all.begin(), all.end(), [&](const Enclosure& e) { return e.part == part; });
        if (found != all.end()) return static_cast<std::int32_t>(found - all.begin());
        all.push_back({part, part >= 0 && is_hollow(body_.parts[std::size_t(part)])});
        return static_cast<std::int32_t>(all.size() - 1);
    }

    const body::Body& body_;
    HeatGrid& grid_;
    int open_;
};

bool is_filled(const body::PreparedBody& body, const Vec3& place, bool by_stuffing) {
    const std::vector<body::Part>& parts = body.body.parts;
    bool inside = !by_stuffing && body.queries[0].contains(place);
    for (std::size_t p = 1; p < parts.size(); ++p) {
        if (by_stuffing && parts[p].kind == body::PartKind::stuffing)
            inside |= body.queries[p].contains(place);
        if (!by_stuffing && is_hollow(parts[p])) inside &= !body.queries[p].contains(place);
    }
    return inside;
}

// Drops the pieces of wall and stuffing that touch, and fills the cells they lie in.
void close_contacts(const body::PreparedBody& body, CellCuts& cuts, const std::vector<std::int32_t>& facing,
                    const std::vector<bool>& of_stuffing) {
    std::vector<SurfacePiece> left;
    std::vector<bool> touched(cuts.box().size(), false);
    for (const SurfacePiece& piece : cuts.pieces()) {
        const auto t = std::size_t(piece.triangle);
        const Vec3 beyond = piece.centre + contact_gap_m * piece.normal;
        if (facing[t] >= 0 && is_filled(body, beyond, !of_stuffing[t])) {
            touched[std::size_t(piece.cell)] = true;
        } else {
            left.push_back(piece);
        }
    }
    cuts.pieces() = std::move(left);
    constexpr float full = 0.999f;
    std::vector<float>& filled = cuts.filled();
    for (std::size_t cell = 0; cell < touched.size(); ++cell) {
        if (touched[cell]) filled[cell] = 1;
    }
    for (int axis = 0; axis < 3; ++axis) {
        const std::size_t stride = cuts.box().stride(axis);
        std::vector<float>& open = cuts.open()[std::size_t(axis)];
        for (std::size_t cell = 0; cell + stride < touched.size(); ++cell) {
            const bool both = filled[cell] > full && filled[cell + stride] > full;
            if (both && (touched[cell] || touched[cell + stride])) open[cell] = 1;
        }
    }
}

// A speck of a cell that nobody has goes to the fullest of the cells round it.
std::int32_t owner_beside(const HeatGrid& grid, std::size_t cell) {
    std::int32_t best = -1;
    float fullest = 0;
    for (int n = 0; n < 27; ++n) {
        std::size_t next = cell;
        for (int axis = 0, rest = n; axis < 3; ++axis, rest /= 3)
            next += grid.box.stride(axis) * static_cast<std::size_t>(rest % 3 - 1);
        if (!(grid.filled[next] > fullest)) continue;
        fullest = grid.filled[next];
        best = static_cast<std::int32_t>(next);
    }
    return best;
}

// A patch with its spot not yet known. The two sides of an edge do not share one.
struct LoosePatch {
    SurfaceSpot spot;
    std::int32_t triangle = 0;
    std::int32_t side = 0;  // of a cube that its normal points to

    [[nodiscard]] auto key() const { return std::tuple(spot.cell, spot.under, spot.enclosure, side); }
};

std::int32_t side_of(const Vec3& normal) {
    Eigen::Index axis = 0;
    const double most = normal.cwiseAbs().maxCoeff(&axis);
    return static_cast<std::int32_t>(2 * axis + (normal[axis] == most ? 1 : 0));
}

void add_spots(HeatGrid& grid, std::vector<LoosePatch> loose, double least_depth_m) {
    std::stable_sort(loose.begin(), loose.end(),
                     [](const LoosePatch& a, const LoosePatch& b) { return a.key() < b.key(); });
    for (std::size_t first = 0, past = 0; first < loose.size(); first = past) {
        SurfaceSpot spot = loose[first].spot;
        double area = 0, depth = 0;
        for (past = first; past < loose.size() && loose[past].key() == loose[first].key(); ++past) {
            const SurfaceSpot& own = loose[past].spot;
            area += static_cast<double>(own.area_m2);
            depth += static_cast<double>(own.area_m2 * own.depth_m);
            grid.patches.push_back(
                {static_cast<std::int32_t>(grid.spots.size()), loose[past].triangle, own.area_m2});
        }
        spot.area_m2 = static_cast<float>(area);
        spot.depth_m = static_cast<float>(std::max(depth / area, least_depth_m));
        grid.spots.push_back(spot);
    }
}

void add_patches(HeatGrid& grid, const EdgeCells& edges, const std::vector<std::int32_t>& facing,
                 const std::vector<SurfacePiece>& pieces) {
    std::vector<LoosePatch> loose;
    const auto add = [&](const SurfacePiece& piece, std::int32_t cell, std::int32_t under, double share) {
        const double depth = (piece.centre - grid.box.centre(std::size_t(under))).dot(piece.normal);
        loose.push_back({{cell, under, facing[std::size_t(piece.triangle)],
                          static_cast<float>(share * piece.area_m2), static_cast<float>(depth)},
                         piece.triangle,
                         side_of(piece.normal)});
    };
    for (const SurfacePiece& piece : pieces) {
        std::int32_t cell = piece.cell;
        if (!grid.carries(std::size_t(cell))) cell = grid.owner[std::size_t(cell)];
        if (cell < 0) cell = owner_beside(grid, std::size_t(piece.cell));
        if (cell < 0) {
            grid.lost_area_m2 += piece.area_m2;
            continue;
        }
        const auto inner = edges.inner(std::size_t(cell));
        if (inner.empty()) add(piece, cell, cell, 1);
        for (const EdgeCells::Inner& i : inner) add(piece, cell, i.cell, static_cast<double>(i.share));
    }
    add_spots(grid, std::move(loose), least_depth * grid.box.spacing_m);
}

void find_rows(HeatGrid& grid) {
    const std::int32_t length = grid.box.count[0];
    const std::size_t count = grid.box.size() / std::size_t(length);
    grid.rows.assign(count, {0, 0});
    for (std::size_t row = 0; row < count; ++row) {
        std::int32_t first = length, past = 0;
        for (std::int32_t i = 0; i < length; ++i) {
            if (!grid.carries(row * std::size_t(length) + std::size_t(i))) continue;
            first = std::min(first, i);
            past = i + 1;
        }
        if (past > 0) grid.rows[row] = {first, past};
    }
}

}  // namespace

double HeatGrid::volume_m3() const {
    double cubes = 0;
    for (const float share : filled) cubes += share;
    return cubes * box.spacing_m * box.spacing_m * box.spacing_m;
}

double HeatGrid::area_m2() const {
    double sum = 0;
    for (const SurfacePatch& patch : patches) sum += patch.area_m2;
    return sum;
}

std::size_t HeatGrid::active_cells() const {
    return static_cast<std::size_t>(
        std::count_if(filled.begin(), filled.end(), [](float share) { return share > 0; }));
}

std::optional<std::size_t> HeatGrid::cell_at(const Vec3& place) const {
    const Vec3 at = (place - box.origin) / box.spacing_m;
    std::array<std::int32_t, 3> cell{};
    for (int axis = 0; axis < 3; ++axis) {
        if (!(at[axis] >= 0 && at[axis] < box.count[std::size_t(axis)])) return std::nullopt;
        cell[std::size_t(axis)] = static_cast<std::int32_t>(at[axis]);
    }
    const std::int32_t found = owner[box.index(cell[0], cell[1], cell[2])];
    if (found < 0) return std::nullopt;
    return static_cast<std::size_t>(found);
}

HeatGrid heat_grid(const body::PreparedBody& body, const HeatGridOptions& options) {
    const double h = options.spacing_m;
    if (!(h > 0)) throw std::invalid_argument("the spacing of a heat grid must be positive");
    if ((body.bounds.sizes() / h + Vec3::Constant(4)).prod() > static_cast<double>(most_cells))
        throw std::invalid_argument("the spacing of a heat grid is too fine for the body");

    HeatGrid grid;
    CellCuts cuts(CellBox::around(body.bounds, h));
    const std::vector<body::Part>& parts = body.body.parts;
    bool is_stuffed = false;
    EnclosureFinder enclosures(body.body, grid);
    std::vector<std::int32_t> facing;
    std::vector<bool> of_stuffing;
    for (std::size_t p = 0; p < parts.size(); ++p) {
        const bool stuffing = parts[p].kind == body::PartKind::stuffing;
        if (p > 0 && !stuffing && !is_hollow(parts[p])) continue;
        is_stuffed |= stuffing;
        const GridSurface surface{static_cast<int>(p), cuts.first_triangles().back()};
        cuts.add(body.queries[p], is_hollow(parts[p]) ? -1 : 1);
        grid.surfaces.push_back(surface);
        for (std::size_t t = 0; t < parts[p].mesh.triangles.size(); ++t) {
            facing.push_back(enclosures.facing(surface, static_cast<std::int32_t>(t)));
            of_stuffing.push_back(stuffing);
        }
    }
    cuts.finish();
    if (is_stuffed) close_contacts(body, cuts, facing, of_stuffing);
    grid.box = cuts.box();
    grid.triangle_count = cuts.first_triangles().back();

    EdgeCells edges = find_edge_cells(cuts);
    grid.filled = std::move(edges.filled);
    grid.open = std::move(edges.open);
    grid.owner = std::move(edges.owner);
    grid.lost_volume_m3 = edges.lost * h * h * h;
    add_patches(grid, edges, facing, cuts.pieces());
    find_rows(grid);
    name_tissues(body, cuts.pieces(), facing, grid);
    return grid;
}

}  // namespace evenspit
