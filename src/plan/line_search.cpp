// SPDX-License-Identifier: MIT
#include "plan/line_search.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <optional>
#include <utility>

#include "analysis/analysis.h"
#include "plan/torque_bound.h"
#include "units/standard_gravity.h"
#include "units/stopped.h"

namespace evenspit::plan {
namespace {

using Offsets = Eigen::Vector4d;  // from y, z, to y, z; mm

constexpr double comfortable_slack_m = 0.005;
/// A rod that rises by more than this for its length through a body does not run along it any more. Common
/// practice, no source.
constexpr double steepest = 0.25;
/// Worst of the lesser wishes together makes a torque count so much more: less than one part in a hundred.
constexpr double wish_weight = 0.002;

RodLine line_of(const Offsets& mm) {
    return {1e-3 * mm.head<2>(), 1e-3 * mm.tail<2>()};
}
Offsets offsets_of(const RodLine& line) {
    Offsets mm;
    mm << 1e3 * line.from, 1e3 * line.to;
    return mm.array().round();
}

/// All lattice moves of up to so many steps.
std::vector<Offsets> moves_within(int reach) {
    std::vector<Offsets> moves;
    for (int i = -reach; i <= reach; ++i) {
        for (int j = -reach; j <= reach; ++j) {
            for (int k = -reach; k <= reach; ++k) {
                for (int l = -reach; l <= reach; ++l) moves.emplace_back(i, j, k, l);
            }
        }
    }
    return moves;
}

struct Scored {
    Offsets offsets = Offsets::Zero();
    double price = std::numeric_limits<double>::infinity();  // N m
    LineFound found;
};

class LineSearch {
  public:
    LineSearch(const PlanItem& item, const LineGoal& goal)
        : item_(item), goal_(goal), bound_(*item.item, item.masses, goal.seat, goal.rest) {
        const Box3& box = item.parts->body().bounds;
        length_m_ = box.sizes().x();
        start_ = offsets_of(goal.seat.line);
        set_prices(goal.torque_per_room_n_m_m);
        if (goal.free != nullptr) {
            const auto& ends = item.silhouette->ends();
            const double reach = item.silhouette->reach() + std::max(-ends[0], ends[1]);
            free_least_m_ = goal.free->least(goal.seat.at_m - reach, goal.seat.at_m + reach);
        }
    }

    LineFound run() {
        const Vec2 raw = item_.masses[0].centre.tail<2>(), cooked = item_.masses[1].centre.tail<2>();
        centre_ = (raw + cooked) / 2;
        const Offsets middle = offsets_of(item_.corridor->middle()),
                      balanced = offsets_of({centre_, centre_});
        std::vector<Offsets> starts{start_, middle, balanced};
        for (const Scored& s : best_of_grid(balanced)) starts.push_back(s.offsets);
        Scored best = best_from(starts);
        if (best.found.room_m < 0) {
            // No line has the room: what is missing is weighed against the torque, once more from here.
            set_prices(goal_.torque_per_missing_room_n_m_m);
            best = best_from({best.offsets, start_, middle});
        }
        return best.found;
    }

  private:
    void set_prices(double torque_per_room_n_m_m) {
        per_room_n_m_m_ = torque_per_room_n_m_m;
        // A line outside the corridor is never better than its neighbour inside: moving an end changes the
        // torque by at most the item's weight times the move.
        forbidden_n_m_m_ = 4 * standard_gravity * item_.masses[0].mass_kg + torque_per_room_n_m_m;
        forbidden_n_m_ = 1e-3 * forbidden_n_m_m_;
    }

    [[nodiscard]] Scored best_from(const std::vector<Offsets>& starts) const {
        Scored best;
        for (const Offsets& start : starts) take_better(best, settled(exactly(start)));
        best = polished(best);
        // What the descents have missed behind a bone, say, is sought from where it would balance best.
        constexpr int most_rounds = 4;
        for (int round = 0; round < most_rounds && best.found.room_m >= 0; ++round) {
            const std::optional<Scored> other = challenger(best);
            if (!other) break;
            take_better(best, polished(settled(*other)));
        }
        return best;
    }

    /// What can be said without asking the corridor: never more than the whole price.
    [[nodiscard]] Scored cheaply(const Offsets& offsets) const {
        Scored s;
        s.offsets = offsets;
        s.found.line = line_of(offsets);
        Seat seat = goal_.seat;
        seat.line = s.found.line;
        const Unbalances all = item_unbalance(*item_.item, item_.masses, seat) + goal_.rest;
        s.found.torque_n_m = standard_gravity * worst_size(all);
        s.price = price_of(offsets, s.found.line, s.found.torque_n_m);
        return s;
    }

    /// What a line costs by its slant and by how far it is from the start, at a torque.
    [[nodiscard]] double price_of(const Offsets& offsets, const RodLine& line, double torque_n_m) const {
        const double tilt = (line.to - line.from).norm() / length_m_;
        const Offsets way = offsets - start_;
        const double move = (way.head<2>().norm() + way.tail<2>().norm()) / 2;
        const double wishes = std::min(1.0, tilt / steepest) + std::min(1.0, move / 100);
        return std::max(torque_n_m, goal_.torque_floor_n_m) * (1 + wish_weight * wishes) +
               forbidden_n_m_m_ * length_m_ * std::max(0.0, tilt - steepest);
    }

    /// Adds a line as cheaply() has it if that costs less than `most`. Few do, which is found out by a tenth
    /// of the work.
    void add_if_cheaper(std::vector<Scored>& to, const Offsets& offsets, double most) const {
        const RodLine line = line_of(offsets);
        const double least_n_m = bound_.least(line);
        if (least_n_m >= most || price_of(offsets, line, least_n_m) >= most) return;
        const Scored s = cheaply(offsets);
        if (s.price < most) to.push_back(s);
    }

    /// Adds those that cost less than `most` of lines whose far ends stand in rows; the step is in mm.
    void add_cheaper_of(std::vector<Scored>& to, const Offsets& first, TorqueSieve::Rows rows, double step,
                        const TorqueSieve& sieve, double most) const {
        rows.first = line_of(first);
        rows.step_m = 1e-3 * step;
        sieve.for_passing(rows, [&](int row, double from, double last) {
            Offsets offsets = first;
            offsets[3 - rows.axis] += row * step;
            for (double n = std::ceil(from); n <= last; ++n) {
                offsets[2 + rows.axis] = first[2 + rows.axis] + n * step;
                add_if_cheaper(to, offsets, most);
            }
        });
    }

    /// The whole price; not all of it is worked out once it is known to be no less than `bound`.
    ///
    /// What cannot be taken costs at least as much as a millimetre too little.
    void complete(Scored& s, double bound) const {
        // So little that the price would reach the bound is little enough to know.
        const auto little = [&](double per_m) {
            return std::min(0.0, (s.price + forbidden_n_m_ - bound) / std::max(per_m, 1e-9));
        };
        const auto charge = [&](double per_m, double spare_m) {
            if (spare_m < 0) s.price += forbidden_n_m_ - per_m * spare_m;
        };
        Known& known = known_[s.offsets];
        if (known.room_m) {
            s.found.room_m = *known.room_m;
        } else {
            const double enough = little(per_room_n_m_m_);
            s.found.room_m = room(s.found.line, enough);
            if (s.found.room_m >= enough) known.room_m = s.found.room_m;
        }
        charge(per_room_n_m_m_, s.found.room_m);
        if (s.price >= bound) return;
        if (known.passage) {
            s.found.passage = *known.passage;
        } else {
            const double enough = little(forbidden_n_m_m_);
            s.found.passage = item_.corridor->passage(s.found.line, {enough, tightest_at_, &tight_places_});
            tightest_at_ = s.found.passage.at;
            if (s.found.passage.slack_m >= enough) known.passage = s.found.passage;
        }
        const double slack = s.found.passage.slack_m;
        const double tight = std::clamp(1 - slack / comfortable_slack_m, 0.0, 1.0);
        s.price += std::max(s.found.torque_n_m, goal_.torque_floor_n_m) * wish_weight * tight;
        charge(forbidden_n_m_m_, slack);
    }

    [[nodiscard]] double room(const RodLine& line, double enough) const {
        stop_if_asked(goal_.stop);
        if (goal_.free == nullptr) return std::numeric_limits<double>::infinity();
        // No corner is further from the line than from the item's axis and that from the line.
        double off = 0;
        const double from = item_.parts->body().bounds.min().x();
        for (const double x : item_.silhouette->ends()) {
            off = std::max(off, (line.from + (line.to - line.from) * ((x - from) / length_m_)).norm());
        }
        const double at_least = free_least_m_ - item_.silhouette->reach() - off;
        if (at_least >= 0) return at_least;
        Seat seat = goal_.seat;
        seat.line = line;
        return item_.silhouette->room(pose_in(*item_.item, seat), *goal_.free, enough, corners_);
    }

    [[nodiscard]] Scored exactly(const Offsets& offsets) const {
        stop_if_asked(goal_.stop);
        Scored s = cheaply(offsets);
        complete(s, std::numeric_limits<double>::infinity());
        return s;
    }

    /// The cheapest few of a coarse grid round a line, 8 mm apart and 32 mm to each side, so that no valley
    /// of the price is missed.
    [[nodiscard]] std::vector<Scored> best_of_grid(const Offsets& centre) const {
        constexpr int reach = 4;
        constexpr double step = 8;
        constexpr std::size_t kept = 4;
        // A whole price is worked out once no other line can be cheaper: of most none is.
        struct Priced {
            double price;
            std::size_t move;
            bool exact;
            // So that the cheapest stands on top of a heap, of those alike the first.
            bool operator<(const Priced& other) const {
                return price != other.price ? price > other.price : move > other.move;
            }
        };
        const std::vector<Offsets> moves = moves_within(reach);
        std::vector<Priced> heap;
        heap.reserve(moves.size());
        for (std::size_t m = 0; m < moves.size(); ++m) {
            const Offsets offsets = centre + step * moves[m];
            const RodLine line = line_of(offsets);
            heap.push_back({price_of(offsets, line, bound_.least(line)), m, false});
        }
        std::make_heap(heap.begin(), heap.end());
        std::vector<Scored> best;
        while (!heap.empty()) {
            std::pop_heap(heap.begin(), heap.end());
            Priced& cheapest = heap.back();
            const double bound =
                best.size() < kept ? std::numeric_limits<double>::infinity() : best.back().price;
            if (cheapest.price >= bound) break;  // the corridor can only add
            Scored s = cheaply(centre + step * moves[cheapest.move]);
            if (!cheapest.exact) {
                cheapest = {s.price, cheapest.move, true};
                std::push_heap(heap.begin(), heap.end());
                continue;
            }
            heap.pop_back();
            complete(s, bound);
            if (s.price >= bound) continue;
            if (best.size() == kept) best.pop_back();
            best.insert(std::upper_bound(best.begin(), best.end(), s,
                                         [](const Scored& a, const Scored& b) { return a.price < b.price; }),
                        s);
        }
        return best;
    }

    static void take_better(Scored& best, const Scored& other) {
        if (other.price < best.price) best = other;
    }

    /// Steps large and small in turn, until neither helps.
    [[nodiscard]] Scored settled(Scored here) const {
        for (double before = std::numeric_limits<double>::infinity(); here.price < before;) {
            before = here.price;
            for (const double step : {8.0, 4.0, 2.0, 1.0}) here = descend(here, step);
            here = slide(here);
        }
        return here;
    }

    /// A line that can be taken and balances better than the best so far by one part in a hundred; nothing if
    /// there is none among these: through points 2 mm apart in the plane of the centre of mass, those first
    /// that balance best, at all slants in steps of 8 mm between the ends. For the unbalance it matters
    /// little how a line slants, so that points that are no good are left out with all their lines.
    [[nodiscard]] std::optional<Scored> challenger(const Scored& best) const {
        const bool any = best.found.passage.slack_m >= 0 && best.found.room_m >= 0;
        constexpr double point_step = 2, slant_step = 8, point_reach = 24;  // mm
        const double share = share_of_centre();
        const double at = item_.parts->body().bounds.min().x() + share * length_m_;
        const int slants = static_cast<int>(1e3 * length_m_ * steepest / slant_step);
        const auto line_through = [&](const Vec2& point, const Vec2& slant) {
            Offsets offsets;
            offsets << point - share * slant, point + (1 - share) * slant;
            return Offsets(offsets.array().round());
        };

        double bound = any ? 0.99 * best.price : std::numeric_limits<double>::infinity();
        const TorqueSieve sieve(bound_, bound);
        std::vector<std::pair<double, Vec2>> points;
        for (double y = -point_reach; y <= point_reach; y += point_step) {
            for (double z = -point_reach; z <= point_reach; z += point_step) {
                const Vec2 point = 1e3 * centre_ + Vec2(y, z);
                const Offsets through = line_through(point, Vec2::Zero());
                if (sieve.passes(line_of(through))) points.emplace_back(cheaply(through).price, point);
            }
        }
        std::stable_sort(points.begin(), points.end(),
                         [](const auto& a, const auto& b) { return a.first < b.first; });
        std::optional<Scored> found;
        std::vector<Scored> trial;
        for (const auto& [price, point] : points) {
            if (price >= bound) break;
            if (item_.corridor->slack_at({at, 1e-3 * point.x(), 1e-3 * point.y()}) < 0) continue;
            for (int i = -slants; i <= slants; ++i) {
                for (int j = -slants; j <= slants; ++j) {
                    trial.clear();
                    const Offsets slanting = line_through(point, slant_step * Vec2(i, j));
                    if (!sieve.passes(line_of(slanting))) continue;
                    add_if_cheaper(trial, slanting, bound);
                    if (trial.empty() || !can_be_taken(trial.front().found.line)) continue;
                    found = exactly(trial.front().offsets);
                    bound = found->price;
                }
            }
        }
        return found;
    }

    [[nodiscard]] bool can_be_taken(const RodLine& line) const {
        const LinePassage passage = item_.corridor->passage(line, {0, tightest_at_, &tight_places_});
        tightest_at_ = passage.at;
        return passage.slack_m >= 0 && room(line, 0) >= 0;
    }

    /// The best lattice point within two steps, as long as there is a better one.
    [[nodiscard]] Scored descend(Scored best, double step) const {
        while (true) {
            std::vector<Scored> around;
            const TorqueSieve sieve(bound_, best.price);
            for (int i = -2; i <= 2; ++i) {
                for (int j = -2; j <= 2; ++j) {
                    add_cheaper_of(around, best.offsets + step * Offsets(i, j, -2, -2),
                                   {.axis = 1, .rows = 5, .count = 5}, step, sieve, best.price);
                }
            }
            if (!take_best(around, best)) return best;
        }
    }

    /// Both ends sideways, then both up and down, each by up to 20 mm: lines that balance alike lie on
    /// slanting rows of the lattice, further apart than descend() looks.
    [[nodiscard]] Scored slide(Scored best) const {
        constexpr int reach = 20;
        for (bool better = true; better;) {
            better = false;
            for (const Eigen::Index axis : {0, 1}) {
                std::vector<Scored> row;
                const TorqueSieve sieve(bound_, best.price);
                for (int from = -reach; from <= reach; ++from) {
                    Offsets first = best.offsets;
                    first[axis] += from;
                    first[axis + 2] -= reach;
                    add_cheaper_of(row, first, {.axis = axis, .rows = 1, .count = 2 * reach + 1}, 1, sieve,
                                   best.price);
                }
                better = take_best(row, best) || better;
            }
        }
        return best;
    }

    /// Turned about the point where it passes the centre of mass, which may move by a millimetre: along a
    /// bone it goes on only so, as the unbalance hardly changes and the way to pass it does.
    [[nodiscard]] Scored polished(Scored best) const {
        constexpr int reach = 20;
        constexpr double step = 2;
        constexpr double worth = 1 - 2.5 * wish_weight;  // not for the lesser wishes alone
        const double share = share_of_centre();
        for (bool better = true; better;) {
            std::vector<Scored> turned;
            const double most = worth * best.price;
            const TorqueSieve sieve(bound_, most);
            for (int i = -reach; i <= reach; ++i) {
                for (int j = -reach; j <= reach; ++j) {
                    const Vec2 slant = step * Vec2(i, j);
                    for (int k = 0; k < 9; ++k) {
                        Offsets move;
                        move << -share * slant, (1 - share) * slant;
                        move = move.array().round();
                        move.tail<2>() += Vec2(k % 3 - 1, k / 3 - 1);
                        const Offsets offsets = best.offsets + move;
                        if (sieve.passes(line_of(offsets))) add_if_cheaper(turned, offsets, most);
                    }
                }
            }
            better = take_best(turned, best);
            if (better) best = descend(best, 1);
        }
        return best;
    }

    /// Where along the body its centre of mass lies, 0 to 1.
    [[nodiscard]] double share_of_centre() const {
        const double from = item_.parts->body().bounds.min().x();
        return std::clamp((item_.masses[0].centre.x() - from) / length_m_, 0.0, 1.0);
    }

    /// The cheapest of some points, if it is cheaper than the best so far.
    bool take_best(std::vector<Scored>& points, Scored& best) const {
        std::sort(points.begin(), points.end(),
                  [](const Scored& a, const Scored& b) { return a.price < b.price; });
        bool better = false;
        for (Scored& s : points) {
            if (s.price >= best.price) break;  // the corridor can only add
            complete(s, best.price);
            if (s.price >= best.price) continue;
            best = std::move(s);
            better = true;
        }
        return better;
    }

    const PlanItem& item_;
    const LineGoal& goal_;
    TorqueBound bound_;
    double length_m_ = 0;
    Offsets start_;
    Vec2 centre_ = Vec2::Zero();  // of mass, between raw and cooked
    double per_room_n_m_m_ = 0, forbidden_n_m_m_ = 0, forbidden_n_m_ = 0;
    double free_least_m_ = 0;  // all along the body, wherever its line
    mutable CornerOrder corners_;
    mutable double tightest_at_ = 0.5;  // on the line asked last
    mutable TightPlaces tight_places_;

    /// What was asked before: the ways from several starts run together.
    struct Known {
        std::optional<double> room_m;
        std::optional<LinePassage> passage;
    };
    struct Order {
        bool operator()(const Offsets& a, const Offsets& b) const {
            return std::lexicographical_compare(a.data(), a.data() + 4, b.data(), b.data() + 4);
        }
    };
    mutable std::map<Offsets, Known, Order> known_;
};

}  // namespace

PlanItem plan_item(const Item& item, double rod_radius_m) {
    PlanItem ready;
    ready.item = &item;
    ready.masses = matter_ends(item);
    ready.parts = std::make_shared<body::JoinedParts>(item.body);
    ready.corridor = std::make_shared<Corridor>(ready.parts, rod_radius_m);
    ready.silhouette = std::make_shared<Silhouette>(item.body->body);
    return ready;
}

LineFound find_line(const PlanItem& item, const LineGoal& goal) {
    return LineSearch(item, goal).run();
}

}  // namespace evenspit::plan
