// SPDX-License-Identifier: MIT
#include "scan/underside.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <utility>

#include <Eigen/Cholesky>
#include <Eigen/SparseCholesky>
#include <Eigen/SparseCore>

#include "scan/follow_guess.h"
#include "scan/plan.h"
#include "scan/points.h"

namespace evenspit::scan {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double looks_down = -0.2;  // vertical part of a normal: what is seen of the underside
constexpr double comes_down_steeply =
    -0.3;  // less than this (about 17° past the vertical), and the wall goes on straight
constexpr double mostly_walls = 0.7;  // share of the edge: more, and the body stands on a flat side
constexpr double guess_limit =
    0.25;  // of the body's height; a guess that misses what was seen by more is not followed
constexpr double end_of_walls =
    0.0025;                      // m; where the board's height is less certain, walls may end anywhere
constexpr double pressed = 1e4;  // weight of a column that lies on the board
constexpr int most_rounds = 25;  // of pressing down and letting go

// Of the plate, against a seen height; in squares of the grid.
constexpr double bending = 1, stretching = 0.002;

enum class Column : std::uint8_t { outside, seen, unseen };

// Heights over the squares that are not outside, with least Σ weight·(height − seen)² + bending·(second
// differences)² + stretching·(first differences)², and nowhere below the board.
class Plate {
  public:
    Plate(const Plan& plan, const std::vector<Column>& columns, const std::vector<double>& seen,
          const std::vector<double>& weight)
        : number_(plan.size(), -1) {
        for (std::size_t k = 0; k < plan.size(); ++k) {
            if (columns[k] != Column::outside) number_[k] = count_++;
        }
        right_ = Eigen::VectorXd::Zero(count_);
        // A whisper keeps squares that nothing else reaches from floating freely.
        for (int k = 0; k < count_; ++k) triplets_.emplace_back(k, k, 1e-9);
        for (std::size_t k = 0; k < plan.size(); ++k) {
            if (number_[k] < 0 || !(weight[k] > 0)) continue;
            triplets_.emplace_back(number_[k], number_[k], weight[k]);
            right_[number_[k]] += weight[k] * seen[k];
        }
        const auto resist = [&](std::initializer_list<std::pair<std::size_t, double>> terms, double factor) {
            for (const auto& [k, c] : terms) {
                if (number_[k] < 0) return;
            }
            for (const auto& [k, c] : terms) {
                for (const auto& [l, d] : terms)
                    triplets_.emplace_back(number_[k], number_[l], factor * c * d);
            }
        };
        for (int j = 1; j + 1 < plan.height(); ++j) {
            for (int i = 1; i + 1 < plan.width(); ++i) {
                const std::size_t here = plan.at(i, j), east = plan.at(i + 1, j), north = plan.at(i, j + 1);
                resist({{plan.at(i - 1, j), 1}, {here, -2}, {east, 1}}, bending);
                resist({{plan.at(i, j - 1), 1}, {here, -2}, {north, 1}}, bending);
                resist({{here, 1}, {east, -1}, {north, -1}, {plan.at(i + 1, j + 1), 1}}, 2 * bending);
                resist({{here, 1}, {east, -1}}, stretching);
                resist({{here, 1}, {north, -1}}, stretching);
            }
        }
    }

    // \param touching squares held on the board whatever else is wanted
    std::vector<double> solve(const std::vector<bool>& touching, const StopControl& control) {
        std::vector<bool> down(std::size_t(count_), false);
        for (std::size_t k = 0; k < number_.size(); ++k) {
            if (number_[k] >= 0 && touching[k]) down[std::size_t(number_[k])] = true;
        }
        const std::vector<bool> held = down;
        Eigen::SparseMatrix<double> matrix(count_, count_);
        matrix.setFromTriplets(triplets_.begin(), triplets_.end());
        Eigen::VectorXd level = Eigen::VectorXd::Zero(count_);
        Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> solver;
        solver.analyzePattern(matrix);
        for (int round = 0; round < most_rounds; ++round) {
            control.check();
            Eigen::SparseMatrix<double> loaded = matrix;
            for (int k = 0; k < count_; ++k) {
                if (down[std::size_t(k)]) loaded.coeffRef(k, k) += pressed;
            }
            solver.factorize(loaded);
            level = solver.solve(right_);
            bool changed = false;
            for (int k = 0; k < count_; ++k) {
                const auto s = std::size_t(k);
                if (!down[s] && level[k] < -1e-7) {
                    down[s] = true;
                    changed = true;
                } else if (down[s] && !held[s] && level[k] > 1e-7) {
                    down[s] = false;  // it would pull: the board only pushes
                    changed = true;
                }
            }
            if (!changed) break;
        }
        std::vector<double> heights(number_.size(), 0.0);
        for (std::size_t k = 0; k < number_.size(); ++k) {
            if (number_[k] >= 0) heights[k] = std::max(0.0, level[number_[k]]);
        }
        return heights;
    }

  private:
    std::vector<int> number_;
    int count_ = 0;
    Eigen::VectorXd right_;
    std::vector<Eigen::Triplet<double>> triplets_;
};

// Middle distance of a guess from the discs that do not look up, of the lower half of the body.
double miss(const SkinGuess& guess, const Sheet& discs, double top, const StopControl& control) {
    constexpr std::size_t places_a_look = 1 << 10;  // some milliseconds
    EveryNthCheck now_and_then(control, places_a_look);
    std::vector<double> off;
    for (std::size_t s = 0; s < discs.size(); ++s) {
        now_and_then.step();
        const Vec3& place = discs.positions[s];
        if (discs.normals[s].z() < 0.3 && place.z() < 0.5 * top) off.push_back(std::abs(guess.field(place)));
    }
    if (off.empty()) return infinity;
    const auto middle = off.begin() + std::ptrdiff_t(off.size() / 2);
    std::nth_element(off.begin(), middle, off.end());
    return *middle;
}

// Discs in the frame of the board made flat: x, y along it, z above it.
Sheet on_flat_board(const Sheet& sheet, const Board& board) {
    Sheet flat = sheet;
    for (Vec3& p : flat.positions) p = board.on_flat(p);
    for (Vec3& n : flat.normals) n = board.to_board.linear() * n;
    return flat;
}

Sheet from_flat_board(const Sheet& flat, const Board& board) {
    Sheet sheet = flat;
    for (Vec3& p : sheet.positions) p = board.from_flat(p);
    const Pose to_scan = board.to_board.inverse();
    for (Vec3& n : sheet.normals) n = to_scan.linear() * n;
    return sheet;
}

// What the body covers, seen from above.
std::vector<bool> covered_squares(const Plan& plan, const Sheet& discs, const Board& board,
                                  const PointSet& board_points, double cut, const StopControl& control) {
    EveryNthCheck now_and_then(control, points_a_look);
    std::vector<bool> covered(plan.size(), false), board_seen(plan.size(), false);
    for (const Vec3& p : discs.positions) covered[plan.at(plan.column(p.x()), plan.row(p.y()))] = true;
    for (const Vec3& p : board_points.positions) {
        now_and_then.step();
        const Vec3 flat = board.on_flat(p);
        const int i = plan.column(flat.x()), j = plan.row(flat.y());
        if (plan.holds(i, j) && std::abs(flat.z()) <= cut) board_seen[plan.at(i, j)] = true;
    }
    covered = spread(plan, spread(plan, covered, true), false);
    fill_openings(plan, covered, board_seen);
    return covered;
}

// Where the board was seen under the body, over the board made flat.
std::vector<Vec3> board_seen_under(const Plan& plan, const std::vector<bool>& covered, const Board& board,
                                   const PointSet& board_points, double cut, const StopControl& control) {
    EveryNthCheck now_and_then(control, 1 << 16);
    std::vector<Vec3> under;
    for (const Vec3& p : board_points.positions) {
        now_and_then.step();
        const Vec3 flat = board.on_flat(p);
        const int i = plan.column(flat.x()), j = plan.row(flat.y());
        if (plan.holds(i, j) && covered[plan.at(i, j)] && std::abs(flat.z()) <= cut) under.push_back(flat);
    }
    return under;
}

// What was seen of the underside, column by column.
struct Seen {
    std::vector<Column> columns;
    std::vector<double> lowest;            // that was seen; infinite where nothing was
    std::vector<std::size_t> lowest_disc;  // that it belongs to
    std::vector<double> height, weight;    // of the underside where it was seen
    std::vector<bool> touching;            // a wall that the board cut
    double near_cut = 0;                   // what ends below this was cut by the board
    double wall_share = 0;                 // of the edge
};

// Height of the lowest layer in the middle of a column.
struct LowestLayer {
    std::vector<double> height, weight;  // height times weight
};

// Each disc that looks down is carried to the middle of its column along its own slope.
LowestLayer lowest_layer(const Plan& plan, const Sheet& discs, const std::vector<double>& lowest) {
    LowestLayer layer{std::vector<double>(plan.size(), 0.0), std::vector<double>(plan.size(), 0.0)};
    for (std::size_t s = 0; s < discs.size(); ++s) {
        const Vec3 &place = discs.positions[s], &n = discs.normals[s];
        const int i = plan.column(place.x()), j = plan.row(place.y());
        const std::size_t k = plan.at(i, j);
        if (n.z() > looks_down || place.z() > lowest[k] + 3 * plan.side()) continue;
        const Vec2 slope = -n.head<2>() / n.z();
        const double w = n.z() * n.z();
        layer.height[k] += w * (place.z() + slope.dot(plan.middle(i, j) - place.head<2>()));
        layer.weight[k] += w;
    }
    return layer;
}

// What seems to be seen of the underside in one column alone, far from others, is a stray disc inside the
// body.
void drop_lone(const Plan& plan, Seen& seen) {
    const std::vector<Column> before = seen.columns;
    for (int j = 1; j + 1 < plan.height(); ++j) {
        for (int i = 1; i + 1 < plan.width(); ++i) {
            if (before[plan.at(i, j)] != Column::seen) continue;
            int company = -1;
            for (int dj = -1; dj <= 1; ++dj) {
                for (int di = -1; di <= 1; ++di) company += before[plan.at(i + di, j + dj)] != Column::unseen;
            }
            if (company >= 3) continue;
            seen.columns[plan.at(i, j)] = Column::unseen;
            seen.weight[plan.at(i, j)] = 0;
        }
    }
}

// The lowest that was seen in each column, and whether that is its underside.
Seen look_from_below(const Plan& plan, const Sheet& discs, const std::vector<bool>& covered, double cut) {
    Seen seen;
    seen.columns.assign(plan.size(), Column::outside);
    seen.lowest.assign(plan.size(), infinity);
    seen.lowest_disc.assign(plan.size(), 0);
    seen.height.assign(plan.size(), 0.0);
    seen.weight.assign(plan.size(), 0.0);
    seen.touching.assign(plan.size(), false);
    seen.near_cut = cut + 2.5 * plan.side();
    for (std::size_t s = 0; s < discs.size(); ++s) {
        const Vec3& place = discs.positions[s];
        const std::size_t k = plan.at(plan.column(place.x()), plan.row(place.y()));
        if (place.z() < seen.lowest[k]) {
            seen.lowest[k] = place.z();
            seen.lowest_disc[k] = s;
        }
    }
    const LowestLayer layer = lowest_layer(plan, discs, seen.lowest);
    double edge_walls = 0, edge_rest = 0;
    for (int j = 1; j + 1 < plan.height(); ++j) {
        for (int i = 1; i + 1 < plan.width(); ++i) {
            const std::size_t k = plan.at(i, j);
            if (!covered[k]) continue;
            seen.columns[k] = Column::unseen;
            const bool edge = !covered[plan.at(i - 1, j)] || !covered[plan.at(i + 1, j)] ||
                              !covered[plan.at(i, j - 1)] || !covered[plan.at(i, j + 1)];
            if (!(seen.lowest[k] < infinity)) continue;
            const Vec3& normal = discs.normals[seen.lowest_disc[k]];
            // An edge of what is covered is where the surface turns under: its lowest disc belongs to the
            // underside, whichever way noise has it look.
            if (!(normal.z() < looks_down || (edge && normal.z() < 0.3))) continue;
            const bool low = seen.lowest[k] < seen.near_cut;
            // A wall that the board cut says nothing of the underside's height but that it is low.
            if (low && normal.z() > comes_down_steeply) {
                seen.touching[k] = true;
                edge_walls += edge;
                continue;
            }
            if (layer.weight[k] > 0) {
                seen.columns[k] = Column::seen;
                seen.height[k] = layer.height[k] / layer.weight[k];
                seen.weight[k] = layer.weight[k];
            } else {
                seen.height[k] = seen.lowest[k];
                seen.weight[k] = 0.05;
            }
            edge_rest += edge && low;
        }
    }
    drop_lone(plan, seen);
    if (edge_walls + edge_rest > 0) seen.wall_share = edge_walls / (edge_walls + edge_rest);
    return seen;
}

// Carries the seen part of the underside on with least bending.
Sheet thin_plate(const Plan& plan, const Seen& seen, const StopControl& control) {
    const std::vector<double> heights =
        Plate(plan, seen.columns, seen.height, seen.weight).solve(seen.touching, control);
    const double side = plan.side();
    Sheet sheet;
    for (int j = 1; j + 1 < plan.height(); ++j) {
        for (int i = 1; i + 1 < plan.width(); ++i) {
            const std::size_t k = plan.at(i, j);
            if (seen.columns[k] != Column::unseen) continue;
            const auto height = [&](int di, int dj) {
                const std::size_t l = plan.at(i + di, j + dj);
                return seen.columns[l] == Column::outside ? heights[k] : heights[l];
            };
            const Vec3 down(0.5 * (height(1, 0) - height(-1, 0)) / side,
                            0.5 * (height(0, 1) - height(0, -1)) / side, -1);
            const Vec2 middle = plan.middle(i, j);
            sheet.invent({middle.x(), middle.y(), heights[k]}, down.normalized(),
                         side * side * std::min(down.norm(), 3.0));
        }
    }
    return sheet;
}

// Of the guesses the one that misses what was seen least, if it does by less than `error`, which then becomes
// its own.
const SkinGuess* nearest_guess(const std::vector<SkinGuess>& guesses, const Sheet& discs, double top,
                               double& error, const StopControl& control) {
    const SkinGuess* nearest = nullptr;
    for (const SkinGuess& guess : guesses) {
        const double its_own = miss(guess, discs, top, control);
        if (its_own >= error) continue;
        error = its_own;
        nearest = &guess;
    }
    return nearest;
}

// Places on the board where the walls of an upright body end.
std::vector<Vec3> feet_of(const Plan& plan, const std::vector<bool>& touching) {
    std::vector<Vec3> feet;
    for (int j = 0; j < plan.height(); ++j) {
        for (int i = 0; i < plan.width(); ++i) {
            const Vec2 middle = plan.middle(i, j);
            if (touching[plan.at(i, j)]) feet.emplace_back(middle.x(), middle.y(), 0);
        }
    }
    return feet;
}

// Walls go on straight down from where they were cut.
void add_walls(const Plan& plan, const Sheet& discs, const Seen& seen, Sheet& closing) {
    const double side = plan.side();
    for (std::size_t k = 0; k < plan.size(); ++k) {
        if (!seen.touching[k] || !(seen.lowest[k] < infinity) || seen.lowest[k] >= seen.near_cut) continue;
        const Vec3 &place = discs.positions[seen.lowest_disc[k]],
                   &normal = discs.normals[seen.lowest_disc[k]];
        const Vec3 level(normal.x(), normal.y(), 0);
        if (!(level.norm() > 0.3)) continue;
        for (double z = place.z() - side; z > 0.3 * side; z -= side)
            closing.invent({place.x(), place.y(), z}, level.normalized(), side * side);
    }
}

// Raises what was closed to an arch over the board, from its edge to a height in its middle.
void arch(const Plan& plan, const std::vector<bool>& covered, double height, Sheet& closing) {
    // How deep within what is covered each square lies, in squares.
    std::vector<double> depth(plan.size(), 0.0);
    double deepest = 0;
    for (std::vector<bool> left = covered; std::find(left.begin(), left.end(), true) != left.end();
         left = spread(plan, left, false)) {
        ++deepest;
        for (std::size_t k = 0; k < left.size(); ++k) depth[k] += left[k];
    }
    const auto raised = [&](int i, int j) {
        const double share = plan.holds(i, j) ? depth[plan.at(i, j)] / deepest : 0;
        return height * share * (2 - share);
    };
    for (std::size_t s = 0; s < closing.size(); ++s) {
        Vec3 &p = closing.positions[s], &n = closing.normals[s];
        const int i = plan.column(p.x()), j = plan.row(p.y());
        if (n.z() > looks_down) continue;
        p.z() += raised(i, j);
        const Vec2 slope(raised(i + 1, j) - raised(i - 1, j), raised(i, j + 1) - raised(i, j - 1));
        n = Vec3(-n.x() / n.z() + slope.x() / (2 * plan.side()),
                 -n.y() / n.z() + slope.y() / (2 * plan.side()), -1)
                .normalized();
    }
}

}  // namespace

Underside close_underside(const Sheet& sheet, const Board& board, const PointSet& board_points, double cut,
                          const ScanScale& scale, const std::vector<SkinGuess>& guesses,
                          const StopControl& control) {
    Underside result;
    if (sheet.size() == 0) return result;
    const Sheet discs = on_flat_board(sheet, board);
    const Plan plan(discs, scale.spacing);
    const std::vector<bool> covered = covered_squares(plan, discs, board, board_points, cut, control);
    Seen seen = look_from_below(plan, discs, covered, cut);
    if (!board.carries || board.height_sigma > end_of_walls) {  // walls may end anywhere
        seen.wall_share = 0;
        seen.touching.assign(plan.size(), false);
    }
    result.resting = how_it_rests(discs.positions, discs.normals,
                                  board_seen_under(plan, covered, board, board_points, cut, control));
    result.wall_share = seen.wall_share;
    result.upright = result.wall_share > mostly_walls;

    double top = 0;
    for (const Vec3& p : discs.positions) top = std::max(top, p.z());
    result.guess_error = guess_limit * top;
    const SkinGuess* const nearest = nearest_guess(guesses, discs, top, result.guess_error, control);
    Sheet closing;
    if (nearest) {
        // A few steep places of a round body say nothing of the board.
        const std::vector<Vec3> feet = result.upright ? feet_of(plan, seen.touching) : std::vector<Vec3>{};
        const auto is_covered = [&](const Vec3& place) {
            const int i = plan.column(place.x()), j = plan.row(place.y());
            return plan.holds(i, j) && covered[plan.at(i, j)];
        };
        FollowedGuess followed =
            follow_guess(*nearest, result.guess_error, discs, feet, plan.side(), is_covered, control);
        closing = std::move(followed.sheet);
        result.ground = std::move(followed.ground);
        for (Vec3& p : result.ground.at) p = board.from_flat(p);
        for (Vec3& n : result.ground.outward) n = board.to_board.linear().transpose() * n;
    }
    if (closing.size() > 0) {
        result.guess = nearest->name;
        if (nearest->arch_share)
            arch(plan, covered, nearest->arch_share(result.resting, result.guess_error) * top, closing);
    } else {
        result.guess_error = 0;
        result.ground = {};
        closing = thin_plate(plan, seen, control);
    }
    if (!nearest || result.upright) add_walls(plan, discs, seen, closing);
    for (const double area : closing.areas) result.area += area;
    result.sheet = from_flat_board(closing, board);
    return result;
}

}  // namespace evenspit::scan
