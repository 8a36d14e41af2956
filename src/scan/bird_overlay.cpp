// SPDX-License-Identifier: MIT
#include "scan/bird_overlay.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <numbers>
#include <utility>
#include <vector>

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>

#include "scan/every_nth.h"
#include "scan/stoppable.h"

namespace evenspit::scan {

namespace {

constexpr std::array proportions{&body::BirdForm::length,      &body::BirdForm::width,
                                 &body::BirdForm::depth,       &body::BirdForm::breast,
                                 &body::BirdForm::keel,        &body::BirdForm::leg_length,
                                 &body::BirdForm::thigh_girth, &body::BirdForm::drumstick_girth,
                                 &body::BirdForm::splay,       &body::BirdForm::wing_length,
                                 &body::BirdForm::wing_girth,  &body::BirdForm::neck_length,
                                 &body::BirdForm::neck_girth,  &body::BirdForm::tail};

constexpr double prior_spread = 0.15;  // σ of the logarithm of each proportion
constexpr double disc_sigma =
    0.01;  // of the bird's size: how far a real bird's skin is from any parametric one's
constexpr double independent = 120;    // discs that tell something new; what more there are repeat it
constexpr double board_sigma = 0.004;  // of the bird's size: how far into the board the bird may reach
// A real bird lies on its highest folds and bones; the smooth one fitted to it is off the board by about the
// error of such fits.
constexpr double stand_off = 0.005;    // of the bird's size
constexpr double touch_sigma = 0.012;  // how far from that its lowest place may be
constexpr double otherwise_deg =
    40;  // two birds lie differently if one must be turned by more than this into the other
constexpr std::size_t starts_kept = 40;  // after a first look
constexpr double bird_like = 0.014;      // of the size: a larger error is no bird
constexpr double bird_certain =
    0.5;  // with less confidence neither: what has no legs and wings fits either way round

constexpr double nudge_size = 2e-3;  // of the logarithm of a proportion
constexpr int shapes_kept = 3;       // steps for which derivatives by proportion are kept

constexpr int rigid = 7;  // turn, shift, logarithm of the size
// What pose and size may be off: wide, so that what was seen decides.
constexpr double turn_spread = 0.05;         // rad
constexpr double shift_spread = 0.03;        // of the size
constexpr double enlargement_spread = 0.15;  // of the logarithm

// The state of a fit.
struct State {
    Mat3 turn = Mat3::Identity();  // shape's axes → scan's
    Vec3 shift = Vec3::Zero();     // of the shape's origin, m
    double scale = 1;
    std::array<double, proportions.size()> logs{};
    const body::BirdSpecies* species = &body::bird_species_table().front();
    double error = 0;  // robust root mean square, m
    double cost = 0;   // with the prior: what tells species apart

    // The species' proportions, each times e to its logarithm.
    [[nodiscard]] body::BirdForm form() const {
        body::BirdForm form = species->form;
        for (std::size_t k = 0; k < proportions.size(); ++k) form.*proportions[k] *= std::exp(logs[k]);
        return form;
    }
    [[nodiscard]] Pose pose() const {
        Pose pose = Pose::Identity();
        pose.linear() = turn;
        pose.translation() = shift;
        return pose;
    }
    [[nodiscard]] Vec3 in_shape(const Vec3& p) const { return turn.transpose() * (p - shift) / scale; }
};

struct Target {
    std::vector<Vec3> discs;   // scan frame
    std::vector<Vec3> ground;  // places just under the board, all over where the bird may lie
    double size = 0;           // m
};

double geman(double x, double width) {
    const double t = 1 + (x / width) * (x / width);
    return 1 / (t * t);
}

class Fitter {
  public:
    Fitter(const Target& target, std::size_t count, bool with_form, StopControl control)
        : control_(std::move(control)),
          size_(target.size),
          discs_(every_nth(target.discs, double(count))),
          ground_(every_nth(target.ground, double(count / 3))),
          with_form_(with_form) {}

    void run(State& state, int iterations, double widest, double narrowest) {
        double damping = 1e-3;
        auto shape = std::make_unique<body::BirdShape>(state.form());
        for (int step = 0; step < iterations; ++step) {
            control_.check();
            const double share = iterations > 1 ? double(step) / (iterations - 1) : 1;
            const double width = size_ * widest * std::pow(narrowest / widest, share);
            const int n = rigid + (with_form_ ? int(proportions.size()) : 0);
            Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(n, n);
            Eigen::VectorXd right = Eigen::VectorXd::Zero(n);
            if (with_form_ && step % shapes_kept == 0) nudge(state);
            const double before = build(state, *shape, width, matrix, right);
            for (int attempt = 0; attempt < 4; ++attempt) {
                Eigen::MatrixXd damped = matrix;
                control_.check();
                damped.diagonal() *= 1 + damping;
                const Eigen::VectorXd move = damped.ldlt().solve(right);
                const State next = moved(state, move);
                auto next_shape = with_form_ ? std::make_unique<body::BirdShape>(next.form()) : nullptr;
                const body::BirdShape& trial = with_form_ ? *next_shape : *shape;
                if (cost(next, trial, width) < before) {
                    state = next;
                    if (with_form_) shape = std::move(next_shape);
                    damping = std::max(damping / 5, 1e-6);
                    break;
                }
                damping *= 8;
            }
        }
        state.error = error(state, *shape, size_ * narrowest);
        state.cost = cost(state, *shape, size_ * narrowest);
    }

  private:
    [[nodiscard]] double disc_weight() const {
        const double sigma = disc_sigma * size_;
        return std::min(independent, double(discs_.size())) / double(discs_.size()) / (sigma * sigma);
    }
    [[nodiscard]] double ground_weight() const {
        const double sigma = board_sigma * size_;
        return 0.2 / (sigma * sigma);
    }

    [[nodiscard]] double touch_weight() const {
        const double sigma = touch_sigma * size_;
        return 1 / (sigma * sigma);
    }

    [[nodiscard]] double stands_off() const { return stand_off * size_; }

    static State moved(State state, const Eigen::VectorXd& move) {
        const Vec3 turn = move.head<3>();
        if (turn.norm() > 0) {
            const double angle = std::min(turn.norm(), 0.5);
            state.turn = Eigen::AngleAxisd(angle, turn.normalized()).toRotationMatrix() * state.turn;
        }
        state.shift += move.segment<3>(3);
        state.scale *= std::exp(std::clamp(move[6], -0.2, 0.2));
        for (Eigen::Index k = rigid; k < move.size(); ++k) {
            state.logs[std::size_t(k - rigid)] =
                std::clamp(state.logs[std::size_t(k - rigid)] + move[k], -0.7, 0.7);
        }
        return state;
    }

    // ½ Σ of robust squares, up to a constant.
    [[nodiscard]] double cost(const State& state, const body::BirdShape& shape, double width) const {
        double sum = 0;
        for (const Vec3& p : discs_) {
            const double r = state.scale * shape.skin(state.in_shape(p));
            sum += disc_weight() * r * r / (1 + (r / width) * (r / width));
        }
        double clearance = size_;
        for (const Vec3& p : ground_) {
            const double r = state.scale * shape.skin(state.in_shape(p));
            clearance = std::min(clearance, r);
            if (r < 0) sum += ground_weight() * r * r;
        }
        if (!ground_.empty()) sum += touch_weight() * (clearance - stands_off()) * (clearance - stands_off());
        if (with_form_) {
            for (const double log : state.logs) sum += (log / prior_spread) * (log / prior_spread);
        }
        return 0.5 * sum;
    }

    [[nodiscard]] double error(const State& state, const body::BirdShape& shape, double width) const {
        double sum = 0;
        for (const Vec3& p : discs_) {
            const double r = state.scale * shape.skin(state.in_shape(p));
            sum += std::min(r * r, 9 * width * width);
        }
        return std::sqrt(sum / double(discs_.size()));
    }

    // Shapes with one proportion changed a little, for derivatives; they hold for some steps.
    void nudge(const State& state) {
        base_ = std::make_unique<body::BirdShape>(state.form());
        nudged_.resize(proportions.size());
        stoppable_for(
            control_, proportions.size(),
            [&](std::size_t first, std::size_t last) {
                for (std::size_t k = first; k < last; ++k) {
                    State other = state;
                    other.logs[k] += nudge_size;
                    nudged_[k] = std::make_unique<body::BirdShape>(other.form());
                }
            },
            1);
    }

    // Normal equations at a state; returns its cost.
    double build(const State& state, const body::BirdShape& shape, double width, Eigen::MatrixXd& matrix,
                 Eigen::VectorXd& right) const {
        const auto n = matrix.rows();
        const std::size_t all = discs_.size() + ground_.size();
        Eigen::MatrixXd rows(n, Eigen::Index(all));
        std::vector<double> residual(all);
        stoppable_for(
            control_, all,
            [&](std::size_t first, std::size_t last) {
                for (std::size_t i = first; i < last; ++i) {
                    const Vec3& p = i < discs_.size() ? discs_[i] : ground_[i - discs_.size()];
                    const Vec3 q = state.in_shape(p);
                    const double value = shape.skin(q);
                    const double h = 1e-4;
                    Vec3 gradient;
                    for (int k = 0; k < 3; ++k) {
                        gradient[k] =
                            (shape.skin(q + h * Vec3::Unit(k)) - shape.skin(q - h * Vec3::Unit(k))) / (2 * h);
                    }
                    const Vec3 g = state.turn * gradient, d = p - state.shift;
                    residual[i] = state.scale * value;
                    auto row = rows.col(Eigen::Index(i));
                    row.head<3>() = -d.cross(g);
                    row.segment<3>(3) = -g;
                    row[6] = state.scale * (value - gradient.dot(q));
                    if (!with_form_) continue;
                    const double base = base_->skin(q);
                    for (std::size_t k = 0; k < nudged_.size(); ++k) {
                        row[rigid + Eigen::Index(k)] =
                            state.scale * (nudged_[k]->skin(q) - base) / nudge_size;
                    }
                }
            },
            64);

        std::size_t lowest = all;
        for (std::size_t i = discs_.size(); i < all; ++i) {
            if (lowest == all || residual[i] < residual[lowest]) lowest = i;
        }
        for (std::size_t i = 0; i < all; ++i) {
            double weight = 0;
            if (i < discs_.size()) {
                weight = disc_weight() * geman(residual[i], width);
            } else if (residual[i] < 0) {
                weight = ground_weight();
            }
            const Eigen::VectorXd row = rows.col(Eigen::Index(i));
            const auto add = [&](double value, double by) {
                matrix.selfadjointView<Eigen::Lower>().rankUpdate(row, by);
                right -= by * value * row;
            };
            if (weight > 0) add(residual[i], weight);
            if (i == lowest) add(residual[i] - stands_off(), touch_weight());
        }
        matrix.triangularView<Eigen::StrictlyUpper>() = matrix.transpose();
        for (Eigen::Index k = rigid; k < n; ++k) {
            matrix(k, k) += 1 / (prior_spread * prior_spread);
            right[k] -= state.logs[std::size_t(k - rigid)] / (prior_spread * prior_spread);
        }
        return cost(state, shape, width);
    }

    StopControl control_;
    double size_;
    std::vector<Vec3> discs_, ground_;
    bool with_form_;
    std::unique_ptr<body::BirdShape> base_;
    std::vector<std::unique_ptr<body::BirdShape>> nudged_;
};

double apart_deg(const Mat3& a, const Mat3& b) {
    return Eigen::AngleAxisd(Mat3(a.transpose() * b)).angle() * 180 / std::numbers::pi;
}

// Turns of the shape to start from.
std::vector<Mat3> starts(const std::vector<Vec3>& discs, const std::optional<Board>& board) {
    std::vector<Mat3> all;
    if (board) {
        const Mat3 from_board = board->to_board.linear().transpose();
        for (int yaw = 0; yaw < 16; ++yaw) {
            const Mat3 about =
                Eigen::AngleAxisd(yaw * std::numbers::pi / 8, Vec3::UnitZ()).toRotationMatrix();
            for (const double over : {0.0, 0.5, 1.0, 1.5}) {  // on its back, its sides, its breast
                all.push_back(from_board * about *
                              Eigen::AngleAxisd(over * std::numbers::pi, Vec3::UnitX()).toRotationMatrix());
            }
            for (const double on_end : {0.5, -0.5}) {
                all.push_back(from_board * about *
                              Eigen::AngleAxisd(on_end * std::numbers::pi, Vec3::UnitY()).toRotationMatrix());
            }
        }
        return all;
    }
    PlaneSum sum(discs.front());
    Vec3 mean = Vec3::Zero();
    for (const Vec3& p : discs) mean += p / double(discs.size());
    Mat3 spread = Mat3::Zero();
    for (const Vec3& p : discs) spread += (p - mean) * (p - mean).transpose();
    const Eigen::SelfAdjointEigenSolver<Mat3> solver(spread);
    Mat3 axes;
    axes << solver.eigenvectors().col(2), solver.eigenvectors().col(1), solver.eigenvectors().col(0);
    if (axes.determinant() < 0) axes.col(2) = -axes.col(2);
    for (int roll = 0; roll < 12; ++roll) {
        const Mat3 rolled =
            axes * Eigen::AngleAxisd(roll * std::numbers::pi / 6, Vec3::UnitX()).toRotationMatrix();
        for (const double about : {0.0, std::numbers::pi})
            all.push_back(rolled * Eigen::AngleAxisd(about, Vec3::UnitZ()).toRotationMatrix());
    }
    return all;
}

// The bird with each number of the fit changed a little, and where the usual values lie.
void add_neighbours(BirdOverlay& overlay, const State& fitted, double size, const StopControl& control) {
    constexpr double little = 0.01;  // of a standard deviation
    const auto add = [&](const State& state, double usual) {
        control.check();
        overlay.add_neighbour(state.form(), state.pose(), state.scale, little);
        overlay.usual.push_back(usual);
    };
    const Vec3 middle = fitted.pose() * Vec3(fitted.scale * body::BirdShape(fitted.form()).box().center());
    for (int k = 0; k < 3; ++k) {
        State state = fitted;
        const Mat3 by = Eigen::AngleAxisd(little * turn_spread, Vec3::Unit(k)).toRotationMatrix();
        state.turn = by * fitted.turn;
        state.shift = middle + by * (fitted.shift - middle);
        add(state, 0);
    }
    for (int k = 0; k < 3; ++k) {
        State state = fitted;
        state.shift[k] += little * shift_spread * size;
        add(state, 0);
    }
    State larger = fitted;  // about the shape's origin: what else that moves, the shifts undo
    larger.scale *= std::exp(little * enlargement_spread);
    add(larger, 0);
    for (std::size_t k = 0; k < proportions.size(); ++k) {
        State state = fitted;
        state.logs[k] += little * prior_spread;
        add(state, -fitted.logs[k] / prior_spread);
    }
}

// What a bird is laid over: the seen discs, and the board under them.
Target target_of(const Sheet& sheet, const std::optional<Board>& board) {
    Target target;
    Box3 box;
    for (std::size_t s = 0; s < sheet.size(); ++s) {
        if (sheet.invented[s]) continue;
        target.discs.push_back(sheet.positions[s]);
        box.extend(sheet.positions[s]);
    }
    target.size = box.diagonal().norm();
    if (!board || !board->carries) return target;
    Box3 over;
    for (const Vec3& p : target.discs) over.extend(board->to_board * p);
    constexpr int n = 24;
    for (int j = 0; j <= n; ++j) {
        for (int i = 0; i <= n; ++i) {
            const double x = over.min().x() + over.sizes().x() * i / n,
                         y = over.min().y() + over.sizes().y() * j / n;
            target.ground.push_back(board->from_flat({x, y, 0}));
        }
    }
    return target;
}

bool by_error(const State& a, const State& b) {
    return a.error < b.error;
}

// Birds of usual proportions that look all ways, the best first.
std::vector<State> rough_fits(const Target& target, const std::optional<Board>& board,
                              const StopControl& control) {
    const body::BirdShape reference{body::BirdForm{}};
    const double reference_size = reference.box().diagonal().norm();
    std::vector<State> states;
    for (const Mat3& turn : starts(target.discs, board)) {
        control.check();
        State state;
        state.turn = turn;
        // Size and middle from the box of both, along the axes of the start.
        Box3 along;
        for (const Vec3& p : target.discs) along.extend(turn.transpose() * p);
        state.scale = std::cbrt(along.volume() / reference.box().volume());
        state.scale =
            std::clamp(state.scale, 0.5 * target.size / reference_size, 2 * target.size / reference_size);
        state.shift = turn * (along.center() - state.scale * reference.box().center());
        states.push_back(state);
    }
    const auto fit_all = [&](int iterations, double widest, double narrowest) {
        stoppable_for(
            control, states.size(),
            [&](std::size_t first, std::size_t last) {
                for (std::size_t k = first; k < last; ++k)
                    Fitter(target, 220, false, control).run(states[k], iterations, widest, narrowest);
            },
            1);
        std::sort(states.begin(), states.end(), by_error);
    };
    fit_all(2, 0.15, 0.12);
    states.resize(std::min(states.size(), starts_kept));
    fit_all(6, 0.12, 0.05);
    return states;
}

// The best few that lie differently.
std::vector<State> lying_differently(const std::vector<State>& states) {
    std::vector<State> distinct;
    for (const State& state : states) {
        const bool known = std::any_of(distinct.begin(), distinct.end(), [&](const State& other) {
            return apart_deg(state.turn, other.turn) < otherwise_deg;
        });
        if (!known && distinct.size() < 4) distinct.push_back(state);
    }
    return distinct;
}

}  // namespace

BirdOverlay::BirdOverlay(const body::BirdSpecies& kind, const body::BirdForm& form, const Pose& pose,
                         double enlargement)
    : scale(enlargement), species(&kind), shape_(std::make_shared<const body::BirdShape>(form)) {
    origin_x_ = 0.5 * (shape_->vent_x() + shape_->neck_x());
    size = scale * shape_->box().diagonal().norm();
    to_item = pose.inverse();
    to_item.translation().x() -= scale * origin_x_;
}

std::vector<double> BirdOverlay::changes(const Vec3& place) const {
    const double here = skin(place);
    std::vector<double> all;
    all.reserve(neighbours_.size());
    for (const Neighbour& n : neighbours_) {
        const double there = n.scale * n.shape->skin((n.to_shape * place) / n.scale);
        all.push_back((there - here) / n.deviations);
    }
    return all;
}

void BirdOverlay::add_neighbour(const body::BirdForm& form, const Pose& pose, double enlargement,
                                double deviations) {
    neighbours_.push_back(
        {std::make_shared<const body::BirdShape>(form), pose.inverse(), enlargement, deviations});
}

TriangleMesh BirdOverlay::cavity_piece(double from, double to, double across) const {
    TriangleMesh mesh = shape_->cavity_piece(from, to, across);
    for (Vec3& v : mesh.vertices) v = scale * (v - Vec3(origin_x_, 0, 0));
    return mesh;
}

bool BirdOverlay::is_bird() const {
    return error < bird_like * size && confidence > bird_certain;
}

BirdOverlay overlay_bird(const Sheet& sheet, const std::optional<Board>& board, const StopControl& control) {
    const Target target = target_of(sheet, board);
    std::vector<State> distinct = lying_differently(rough_fits(target, board, control));
    for (State& state : distinct) Fitter(target, 500, true, control).run(state, 5, 0.06, 0.03);
    std::sort(distinct.begin(), distinct.end(), by_error);
    State best = distinct.front();
    const double first_error = best.error;
    double other_error = 0;
    for (const State& state : distinct) {
        if (apart_deg(state.turn, best.turn) < otherwise_deg) continue;
        other_error = state.error;
        break;
    }
    // The same way round, but of another species.
    for (const body::BirdSpecies& species : body::bird_species_table()) {
        if (&species == best.species) continue;
        State other = best;
        other.species = &species;
        other.logs = {};
        Fitter(target, 500, true, control).run(other, 5, 0.06, 0.03);
        if (other.cost < best.cost) best = other;
    }
    Fitter(target, 1200, true, control).run(best, 8, 0.03, 0.02);

    BirdOverlay overlay(*best.species, best.form(), best.pose(), best.scale);
    if (board) add_neighbours(overlay, best, target.size, control);
    overlay.error = best.error;
    overlay.confidence = other_error > 0 ? 1 - (first_error / other_error) * (first_error / other_error) : 1;
    return overlay;
}

}  // namespace evenspit::scan
