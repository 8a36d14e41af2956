// SPDX-License-Identifier: MIT
#include "plan/plan.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "analysis/limits.h"
#include "plan/counterweight_search.h"
#include "plan/effort.h"
#include "plan/moves.h"
#include "plan/weight_room.h"
#include "units/standard_gravity.h"
#include "units/stopped.h"

namespace evenspit {
namespace {

/// An answer that brings less than this is not told.
constexpr double worth_telling = 0.9;

class Planner {
  public:
    Planner(const Assembly& assembly, Analysis as_it_stands, const std::stop_token& stop)
        : assembly_(assembly), problem_(plan_problem(assembly, as_it_stands, stop)) {
        plan_.answers.push_back({.kind = PlanKind::as_it_stands,
                                 .arrangement = problem_.before,
                                 .analysis = std::move(as_it_stands),
                                 .line_held_by = {}});
        complete(plan_.answers.front());
    }

    /// \param stage as for make_plan()
    Plan run(const std::function<void(double, std::string_view)>& stage) {
        const auto begin = [&](double share, std::string_view what) {
            if (stage) stage(share, what);
            stop_if_asked(problem_.stop);
        };
        if (!problem_.items.empty()) {
            begin(0, "turning items against each other");
            answer_turned();
            begin(0.1, "seeking the rod line");
            answer_line();
            begin(0.3, "seeking places for forks and items");
            answer_forks();
            begin(0.8, "seeking counterweights");
            answer_counterweights();
        }
        begin(1, "judging the answers");
        judge();
        return std::move(plan_);
    }

  private:
    // --- answers ---

    void answer_turned() {
        if (problem_.items.size() < 2 && problem_.before.counterweights.empty()) return;
        Arrangement arrangement = problem_.before;
        set_turns(problem_, arrangement);
        const double torque = worst_torque_n_m(problem_, arrangement);
        if (torque < worth_telling * plan_.answers.front().gravity_torque_worst_n_m) {
            add(PlanKind::turned, arrangement, std::nullopt);
        }
    }

    void answer_line() {
        bare_ = problem_.before;
        bare_.counterweights.clear();
        held_by_ = set_lines(problem_, bare_);
        if (problem_.before.counterweights.empty()) return add(PlanKind::line, bare_, held_by_);
        // Better without the weights, unless they do what the line cannot.
        Arrangement arrangement = problem_.before;
        const std::optional<RodLimit> held_by = set_lines(problem_, arrangement);
        if (worst_torque_n_m(problem_, bare_) <=
            std::max(worst_torque_n_m(problem_, arrangement), problem_.enough_n_m))
            return add(PlanKind::line, bare_, held_by_);
        add(PlanKind::line, arrangement, held_by);
    }

    void answer_forks() {
        Arrangement arrangement = bare_;
        arrange(problem_, arrangement);
        if (problem_.items.size() > 1) set_turns(problem_, arrangement);
        const bool alone = problem_.items.size() == 1;
        const Arrangement lined = arrangement;
        const double price = set_forks(problem_, arrangement, alone);
        constexpr double bad = 10;  // a tine in bone or without cover
        if (!alone && price >= bad) {
            // Turning each as its forks like it, if the items then still balance.
            Arrangement freely = lined;
            const double freely_price = set_forks(problem_, freely, true);
            if (freely_price < price && worst_torque_n_m(problem_, freely) <= 2 * problem_.enough_n_m)
                arrangement = freely;
        }
        set_stations(problem_, arrangement);
        // Forks and station have moved: once more, now that nothing moves much.
        const std::vector<Seat> seats = arrangement.seats;
        if (alone) held_by_ = set_lines(problem_, arrangement);
        const bool settled = std::equal(seats.begin(), seats.end(), arrangement.seats.begin(),
                                        [](const Seat& a, const Seat& b) {
                                            return a.line.from == b.line.from && a.line.to == b.line.to;
                                        });
        if (!settled) {
            set_forks(problem_, arrangement, false);
            set_stations(problem_, arrangement);
        }
        best_ = arrangement;
        add(PlanKind::line_forks, arrangement, held_by_);
    }

    void answer_counterweights() {
        const auto with_weights = [this](Arrangement arrangement, PlanKind kind,
                                         std::optional<RodLimit> held_by) {
            arrangement.counterweights.clear();
            CounterweightGoal goal;
            goal.unbalance = all_unbalance(problem_, arrangement);
            goal.centre_m = plan_.answers.front().analysis.balance.centre_x_m;
            goal.enough_kg_m = problem_.enough_n_m / standard_gravity;
            goal.stock = weights_at_hand(assembly_);
            goal.usable_m = assembly_.rod.usable_m;
            goal.free = problem_.free_radius();
            goal.blocked = [room = WeightRoom(problem_, arrangement), this](const Counterweight& weight) {
                stop_if_asked(problem_.stop);
                return room.blocked(weight);
            };
            const CounterweightsFound found = find_counterweights(goal);
            if (found.weights.empty()) return;
            arrangement.counterweights = found.weights;
            add(kind, arrangement, held_by);
        };
        with_weights(problem_.before, PlanKind::counterweight, std::nullopt);
        with_weights(best_, PlanKind::everything, held_by_);
    }

    /// Tells an answer, unless it brings nothing or was told already under another name.
    void add(PlanKind kind, const Arrangement& arrangement, std::optional<RodLimit> held_by) {
        for (const PlanAnswer& told : plan_.answers) {
            if (effort(told.arrangement, arrangement) == 0) return;
        }
        const Assembly after = with_arrangement(assembly_, arrangement);
        PlanAnswer answer{.kind = kind,
                          .arrangement = arrangement,
                          .analysis = analyse(after, problem_.stop),
                          .line_held_by = held_by};
        complete(answer);
        if (brings_something(answer)) plan_.answers.push_back(std::move(answer));
    }

    /// Whether anything is better than as it stands.
    [[nodiscard]] bool brings_something(const PlanAnswer& answer) const {
        const PlanAnswer& base = plan_.answers.front();
        if (answer.stops != base.stops) return answer.stops < base.stops;
        return answer.cares < base.cares || answer.gravity_torque_worst_n_m < base.gravity_torque_worst_n_m;
    }

    /// All that follows from arrangement and analysis.
    void complete(PlanAnswer& answer) const {
        answer.gravity_torque_worst_n_m = worst_torque_n_m(problem_, answer.arrangement);
        for (const Finding& finding : answer.analysis.findings) {
            answer.stops += finding.level == Level::stop ? 1 : 0;
            answer.cares += finding.level == Level::care ? 1 : 0;
        }
        answer.effort = effort(problem_.before, answer.arrangement);
    }

    // --- judging ---

    [[nodiscard]] bool better(const PlanAnswer& a, const PlanAnswer& b) const {
        if (a.stops != b.stops) return a.stops < b.stops;
        if (a.cares != b.cares) return a.cares < b.cares;
        const double torque_a = a.gravity_torque_worst_n_m, torque_b = b.gravity_torque_worst_n_m;
        const bool enough_a = torque_a <= problem_.enough_n_m, enough_b = torque_b <= problem_.enough_n_m;
        if (enough_a != enough_b) return enough_a;
        if (enough_a) return a.effort < b.effort;
        return torque_a < worth_telling * torque_b ||
               (torque_a * worth_telling < torque_b && a.effort < b.effort);
    }

    void judge() {
        std::vector<PlanAnswer>& answers = plan_.answers;
        std::stable_sort(answers.begin(), answers.end(),
                         [](const PlanAnswer& a, const PlanAnswer& b) { return a.kind < b.kind; });
        for (std::size_t i = 1; i < answers.size(); ++i) {
            if (better(answers[i], answers[plan_.recommended])) plan_.recommended = i;
        }
        const PlanAnswer& base = answers.front();
        if (base.analysis.verdict == Level::ready &&
            base.gravity_torque_worst_n_m <= limits::leave_alone_use * assembly_.motor.rated_torque_n_m) {
            plan_.recommended = 0;
        }
        for (PlanAnswer& a : answers) {
            a.worth_its_effort = std::none_of(answers.begin(), answers.end(), [&a](const PlanAnswer& b) {
                return b.effort <= a.effort && b.gravity_torque_worst_n_m <= a.gravity_torque_worst_n_m &&
                       (b.effort < a.effort || b.gravity_torque_worst_n_m < a.gravity_torque_worst_n_m);
            });
        }
        const PlanAnswer& best = answers[plan_.recommended];
        if (best.stops > 0)
            plan_.limits = plan_limits(with_arrangement(assembly_, best.arrangement), best.analysis);
    }

    const Assembly& assembly_;
    PlanProblem problem_;
    Arrangement bare_;                 // without counterweights, lines set
    Arrangement best_;                 // with new forks and stations
    std::optional<RodLimit> held_by_;  // the lines of the latest of them
    Plan plan_;
};

}  // namespace

Plan make_plan(const Assembly& assembly,
               const std::function<void(double share, std::string_view what)>& stage,
               const std::stop_token& stop) {
    return Planner(assembly, analyse(assembly, stop), stop).run(stage);
}

}  // namespace evenspit
