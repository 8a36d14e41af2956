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

namespace evenspit {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double looks_down = -0.2;  // vertical part of a normal: what is seen of the underside
constexpr double comes_down_steeply =
    -0.3;  // less than this (about 17° past the vertical), and the wall goes on straight
constexpr double mostly_walls = 0.7;  // share of the edge: more, and the body stands on a flat side
constexpr double guess_limit =
    0.25;  // of the body's height; a guess that misses what was seen by more is not followed
constexpr double pressed = 1e4;  // weight of a column that lies on the board
constexpr int most_rounds = 25;  // of pressing down and letting go

// Of the plate, against a seen height; in squares of the grid.
constexpr double bending = 1, stretching = 0.002;

enum class Column : std::uint8_t { outside, seen, unseen };

class Plan {
  public:
    Plan(const Sheet& discs, double side) : side_(side) {
        Box3 box;
        for (const Vec3& p : discs.positions) box.extend(p);
        least_ = box.min().head<2>() - Vec2::Constant(4 * side);
        width_ = int((box.max().x() - least_.x()) / side) + 5;
        height_ = int((box.max().y() - least_.y()) / side) + 5;
    }
    [[nodiscard]] int width() const { return width_; }
    [[nodiscard]] int height() const { return height_; }
    [[nodiscard]] double side() const { return side_; }
    [[nodiscard]] std::size_t size() const { return std::size_t(width_) * std::size_t(height_); }
    [[nodiscard]] std::size_t at(int i, int j) const {
        return std::size_t(j) * std::size_t(width_) + std::size_t(i);
    }
    [[nodiscard]] bool holds(int i, int j) const { return i >= 0 && j >= 0 && i < width_ && j < height_; }
    [[nodiscard]] int column(double x) const { return int(std::floor((x - least_.x()) / side_)); }
    [[nodiscard]] int row(double y) const { return int(std::floor((y - least_.y()) / side_)); }
    [[nodiscard]] Vec2 middle(int i, int j) const { return least_ + side_ * Vec2(i + 0.5, j + 0.5); }

  private:
    double side_;
    Vec2 least_;
    int width_, height_;
};

// Marks what lies within one square of a marked one, or unmarks what lies within one of an unmarked one.
std::vector<bool> spread(const Plan& plan, const std::vector<bool>& marked, bool grow) {
    std::vector<bool> next = marked;
    for (int j = 0; j < plan.height(); ++j) {
        for (int i = 0; i < plan.width(); ++i) {
            if (marked[plan.at(i, j)] == grow) continue;
            for (const auto& [di, dj] :
                 std::array<std::pair<int, int>, 4>{{{1, 0}, {-1, 0}, {0, 1}, {0, -1}}}) {
                if (plan.holds(i + di, j + dj) && marked[plan.at(i + di, j + dj)] == grow) {
                    next[plan.at(i, j)] = grow;
                    break;
                }
            }
        }
    }
    return next;
}

// The squares from which the outside can be reached without crossing marked ones are left; openings in
// between are marked unless the board shows through them.
void fill_openings(const Plan& plan, std::vector<bool>& marked, const std::vector<bool>& board_seen) {
    std::vector<bool> met(plan.size(), false);
    for (int j0 = 0; j0 < plan.height(); ++j0) {
        for (int i0 = 0; i0 < plan.width(); ++i0) {
            if (marked[plan.at(i0, j0)] || met[plan.at(i0, j0)]) continue;
            std::vector<std::pair<int, int>> stack{{i0, j0}}, opening;
            met[plan.at(i0, j0)] = true;
            bool outside = false;
            std::size_t shown = 0;
            while (!stack.empty()) {
                const auto [i, j] = stack.back();
                stack.pop_back();
                opening.emplace_back(i, j);
                shown += board_seen[plan.at(i, j)];
                for (const auto& [di, dj] :
                     std::array<std::pair<int, int>, 4>{{{1, 0}, {-1, 0}, {0, 1}, {0, -1}}}) {
                    if (!plan.holds(i + di, j + dj)) {
                        outside = true;
                        continue;
                    }
                    const std::size_t k = plan.at(i + di, j + dj);
                    if (marked[k] || met[k]) continue;
                    met[k] = true;
                    stack.emplace_back(i + di, j + dj);
                }
            }
            if (outside || double(shown) > 0.3 * double(opening.size())) continue;
            for (const auto& [i, j] : opening) marked[plan.at(i, j)] = true;
        }
    }
}

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
    std::vector<double> solve(const std::vector<bool>& touching) {
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
double miss(const SkinGuess& guess, const Sheet& discs, double top) {
    std::vector<double> off;
    for (std::size_t s = 0; s < discs.size(); ++s) {
        const Vec3& place = discs.positions[s];
        if (discs.normals[s].z() < 0.3 && place.z() < 0.5 * top) off.push_back(std::abs(guess.field(place)));
    }
    if (off.empty()) return infinity;
    const auto middle = off.begin() + std::ptrdiff_t(off.size() / 2);
    std::nth_element(off.begin(), middle, off.end());
    return *middle;
}

// What seems to be seen of the underside in one column alone, far from others, is a stray disc inside the
// body.
void drop_lone(const Plan& plan, std::vector<Column>& columns, std::vector<double>& weight) {
    const std::vector<Column> before = columns;
    for (int j = 1; j + 1 < plan.height(); ++j) {
        for (int i = 1; i + 1 < plan.width(); ++i) {
            if (before[plan.at(i, j)] != Column::seen) continue;
            int company = -1;
            for (int dj = -1; dj <= 1; ++dj) {
                for (int di = -1; di <= 1; ++di) company += before[plan.at(i + di, j + dj)] != Column::unseen;
            }
            if (company >= 3) continue;
            columns[plan.at(i, j)] = Column::unseen;
            weight[plan.at(i, j)] = 0;
        }
    }
}

// A disc that nothing was seen of.
void invent(Sheet& sheet, const Vec3& place, const Vec3& normal, double area) {
    sheet.positions.push_back(place);
    sheet.normals.push_back(normal);
    sheet.areas.push_back(area);
    sheet.invented.push_back(true);
}

// Discs in the frame of the board made flat: x, y along it, z above it.
Sheet on_flat_board(const Sheet& sheet, const Board& board) {
    Sheet flat = sheet;
    for (Vec3& p : flat.positions) {
        const Vec3 q = board.to_board * p;
        p = Vec3(q.x(), q.y(), board.above(q));
    }
    for (Vec3& n : flat.normals) n = board.to_board.linear() * n;
    return flat;
}

Sheet from_flat_board(const Sheet& flat, const Board& board) {
    Sheet sheet = flat;
    const Pose to_scan = board.to_board.inverse();
    for (Vec3& p : sheet.positions)
        p = to_scan * Vec3(p + board.height_of_board(p.x(), p.y()) * Vec3::UnitZ());
    for (Vec3& n : sheet.normals) n = to_scan.linear() * n;
    return sheet;
}

// Carries the seen part of the underside on with least bending.
Sheet thin_plate(const Plan& plan, const std::vector<Column>& columns, const std::vector<double>& seen,
                 const std::vector<double>& weight, const std::vector<bool>& touching) {
    const std::vector<double> heights = Plate(plan, columns, seen, weight).solve(touching);
    const double side = plan.side();
    Sheet sheet;
    for (int j = 1; j + 1 < plan.height(); ++j) {
        for (int i = 1; i + 1 < plan.width(); ++i) {
            const std::size_t k = plan.at(i, j);
            if (columns[k] != Column::unseen) continue;
            const auto height = [&](int di, int dj) {
                const std::size_t l = plan.at(i + di, j + dj);
                return columns[l] == Column::outside ? heights[k] : heights[l];
            };
            const Vec3 down(0.5 * (height(1, 0) - height(-1, 0)) / side,
                            0.5 * (height(0, 1) - height(0, -1)) / side, -1);
            const Vec2 middle = plan.middle(i, j);
            invent(sheet, {middle.x(), middle.y(), heights[k]}, down.normalized(),
                   side * side * std::min(down.norm(), 3.0));
        }
    }
    return sheet;
}

}  // namespace

Underside close_underside(const Sheet& sheet, const Board& board, const PointSet& board_points, double cut,
                          const ScanScale& scale, const std::vector<SkinGuess>& guesses) {
    Underside result;
    if (sheet.size() == 0) return result;
    const double side = scale.spacing;
    const Sheet discs = on_flat_board(sheet, board);
    const Plan plan(discs, side);

    // What the body covers, seen from above.
    std::vector<bool> covered(plan.size(), false), board_seen(plan.size(), false);
    for (const Vec3& p : discs.positions) covered[plan.at(plan.column(p.x()), plan.row(p.y()))] = true;
    for (const Vec3& p : board_points.positions) {
        const Vec3 q = board.to_board * p;
        const int i = plan.column(q.x()), j = plan.row(q.y());
        if (plan.holds(i, j) && std::abs(board.above(q)) <= cut) board_seen[plan.at(i, j)] = true;
    }
    covered = spread(plan, spread(plan, covered, true), false);
    fill_openings(plan, covered, board_seen);

    // The lowest that was seen in each column, and whether that is its underside.
    std::vector<double> lowest(plan.size(), infinity), seen(plan.size(), 0.0), weight(plan.size(), 0.0);
    std::vector<std::size_t> lowest_disc(plan.size(), 0);
    for (std::size_t s = 0; s < discs.size(); ++s) {
        const Vec3& place = discs.positions[s];
        const std::size_t k = plan.at(plan.column(place.x()), plan.row(place.y()));
        if (place.z() < lowest[k]) {
            lowest[k] = place.z();
            lowest_disc[k] = s;
        }
    }
    // Height of the lowest layer in the middle of a column: each disc that looks down is carried there along
    // its own slope.
    std::vector<double> middle_height(plan.size(), 0.0), middle_weight(plan.size(), 0.0);
    for (std::size_t s = 0; s < discs.size(); ++s) {
        const Vec3 &place = discs.positions[s], &n = discs.normals[s];
        const int i = plan.column(place.x()), j = plan.row(place.y());
        const std::size_t k = plan.at(i, j);
        if (n.z() > looks_down || place.z() > lowest[k] + 3 * side) continue;
        const Vec2 slope = -n.head<2>() / n.z();
        const double w = n.z() * n.z();
        middle_height[k] += w * (place.z() + slope.dot(plan.middle(i, j) - place.head<2>()));
        middle_weight[k] += w;
    }
    std::vector<Column> columns(plan.size(), Column::outside);
    std::vector<bool> touching(plan.size(), false);
    double edge_walls = 0, edge_rest = 0;
    const double near_cut = cut + 2.5 * scale.spacing;
    for (int j = 1; j + 1 < plan.height(); ++j) {
        for (int i = 1; i + 1 < plan.width(); ++i) {
            const std::size_t k = plan.at(i, j);
            if (!covered[k]) continue;
            columns[k] = Column::unseen;
            const bool edge = !covered[plan.at(i - 1, j)] || !covered[plan.at(i + 1, j)] ||
                              !covered[plan.at(i, j - 1)] || !covered[plan.at(i, j + 1)];
            if (!(lowest[k] < infinity)) continue;
            const Vec3& normal = discs.normals[lowest_disc[k]];
            // An edge of what is covered is where the surface turns under: its lowest disc belongs to the
            // underside, whichever way noise has it look.
            if (normal.z() < looks_down || (edge && normal.z() < 0.3)) {
                // A wall that the board cut says nothing of the underside's height but that it is low.
                if (lowest[k] < near_cut && normal.z() > comes_down_steeply) {
                    touching[k] = true;
                    edge_walls += edge;
                } else {
                    if (middle_weight[k] > 0) {
                        columns[k] = Column::seen;
                        seen[k] = middle_height[k] / middle_weight[k];
                        weight[k] = middle_weight[k];
                    } else {
                        seen[k] = lowest[k];
                        weight[k] = 0.05;
                    }
                    edge_rest += edge && lowest[k] < near_cut;
                }
            }
        }
    }
    drop_lone(plan, columns, weight);
    if (edge_walls + edge_rest > 0) result.wall_share = edge_walls / (edge_walls + edge_rest);
    result.upright = result.wall_share > mostly_walls;

    double top = 0;
    for (const Vec3& p : discs.positions) top = std::max(top, p.z());
    const SkinGuess* nearest = nullptr;
    result.guess_error = guess_limit * top;
    for (const SkinGuess& guess : guesses) {
        const double error = miss(guess, discs, top);
        if (error >= result.guess_error) continue;
        result.guess_error = error;
        nearest = &guess;
    }
    Sheet closing;
    if (nearest) {
        // A few steep places of a round body say nothing of the board.
        std::vector<Vec3> feet;
        for (int j = 0; j < plan.height(); ++j) {
            for (int i = 0; i < plan.width(); ++i) {
                const Vec2 middle = plan.middle(i, j);
                if (touching[plan.at(i, j)] && result.upright) feet.emplace_back(middle.x(), middle.y(), 0);
            }
        }
        closing = follow_guess(*nearest, discs, feet, side, [&](const Vec3& place) {
            const int i = plan.column(place.x()), j = plan.row(place.y());
            return plan.holds(i, j) && covered[plan.at(i, j)];
        });
    }
    if (closing.size() > 0) {
        result.guess = nearest->name;
    } else {
        result.guess_error = 0;
        closing = thin_plate(plan, columns, seen, weight, touching);
    }
    // Walls go on straight down from where they were cut.
    const bool walls = !nearest || result.upright;
    for (std::size_t k = 0; k < plan.size(); ++k) {
        if (!walls || !touching[k] || !(lowest[k] < infinity) || lowest[k] >= near_cut) continue;
        const Vec3 &place = discs.positions[lowest_disc[k]], &normal = discs.normals[lowest_disc[k]];
        const Vec3 level(normal.x(), normal.y(), 0);
        if (!(level.norm() > 0.3)) continue;
        for (double z = place.z() - side; z > 0.3 * side; z -= side)
            invent(closing, {place.x(), place.y(), z}, level.normalized(), side * side);
    }
    for (const double area : closing.areas) result.area += area;
    result.sheet = from_flat_board(closing, board);
    return result;
}

}  // namespace evenspit
