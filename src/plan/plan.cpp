// SPDX-License-Identifier: MIT
#include "plan/plan.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <future>
#include <optional>
#include <stop_token>
#include <utility>

#include "analysis/balance.h"
#include "analysis/limits.h"
#include "analysis/roll_belief.h"
#include "plan/counterweight_search.h"
#include "plan/effort.h"
#include "plan/load_changes.h"
#include "plan/moves.h"
#include "plan/weight_room.h"
#include "units/error.h"
#include "units/standard_gravity.h"
#include "units/stopped.h"

namespace evenspit::plan {
namespace {

/// An answer that brings less than this is not told.
constexpr double worth_telling = 0.9;

/// A load judged by mountings on a thread of its own; given up when nobody waits for it any more.
class JudgedAside {
  public:
    /// \param assembly, trees outlive this
    JudgedAside(const Assembly& assembly, const Analysis& written, int mountings, const SweepTrees& trees,
                const std::stop_token& stop)
        : follow_(stop, [this] { own_.request_stop(); }),
          judged_(
              std::async(std::launch::async, [&assembly, &trees, written, mountings, own = own_.get_token()] {
                  Analysis a = written;
                  add_mountings(a, assembly, mountings, own, &trees);
                  return a;
              })) {}
    JudgedAside(const JudgedAside&) = delete;
    JudgedAside& operator=(const JudgedAside&) = delete;
    ~JudgedAside() { own_.request_stop(); }

    /// Waits for it. Once.
    Analysis take() { return judged_.get(); }

  private:
    std::stop_source own_;
    std::stop_callback<std::function<void()>> follow_;
    std::future<Analysis> judged_;  // its end waits for the thread
};

class Planner {
  public:
    /// \param written the load as it stands, without mountings
    Planner(const Assembly& assembly, Analysis written, const PlanWish& wish, const std::stop_token& stop)
        : assembly_(assembly), wish_(wish), problem_(plan_problem(assembly, written, stop)) {
        if (wish.mountings > 0) problem_.trees = sweep_trees(assembly);
        plan_.answers.push_back({.kind = PlanKind::as_it_stands,
                                 .arrangement = problem_.before,
                                 .analysis = std::move(written),
                                 .line_held_by = {}});
        complete(plan_.answers.front());
    }

    /// \param assembly as for make_plan(); outlives the planner
    static Planner of(const Assembly& assembly, const PlanWish& wish, const std::stop_token& stop) {
        return {assembly, analyse(assembly, stop), wish, stop};
    }

    /// \param stage as for make_plan()
    Plan run(const std::function<void(double, std::string_view)>& stage) {
        search(stage);
        begin(stage, 0.92, "looking for what else would help");
        answer_changes();
        finish();
        begin(stage, 1, "telling them");
        return std::move(plan_);
    }

  private:
    void begin(const std::function<void(double, std::string_view)>& stage, double share,
               std::string_view what) const {
        if (stage) stage(share, what);
        stop_if_asked(problem_.stop);
    }

    // --- answers ---

    /// All that moving things can do; the best is recommended.
    void search(const std::function<void(double, std::string_view)>& stage) {
        // Much of the search goes one step after the other and leaves a core to this.
        JudgedAside as_it_stands(assembly_, plan_.answers.front().analysis, wish_.mountings, problem_.trees,
                                 problem_.stop);
        if (!problem_.items.empty()) {
            begin(stage, 0, "turning items against each other");
            if (wish_.may.turn) answer_turned();
            begin(stage, 0.1, "looking for the rod line");
            answer_line();
            begin(stage, 0.3, "looking for places for forks and items");
            answer_forks();
            begin(stage, 0.7, "looking for counterweights");
            if (wish_.may.counterweights) answer_counterweights();
        }
        begin(stage, 0.9, "judging the answers");
        plan_.answers.front().analysis = as_it_stands.take();
        count_findings(plan_.answers.front());
        leave_useless();
        choose();
    }

    void answer_turned() {
        if (problem_.items.size() < 2 && problem_.before.counterweights.empty()) return;
        Arrangement arrangement = problem_.before;
        set_turns(problem_, arrangement);
        const double torque = worst_torque_n_m(problem_, arrangement);
        if (torque < worth_telling * plan_.answers.front().gravity_torque_worst_n_m) {
            add(PlanKind::turned, settable(arrangement, {.line = false, .forks = false}, few_rounds),
                std::nullopt);
        }
    }

    void answer_line() {
        bare_ = problem_.before;
        if (wish_.may.counterweights) bare_.counterweights.clear();
        if (!wish_.may.line) return;
        held_by_ = set_lines(problem_, bare_, wish_.may.turn);
        const auto tell = [this](const Arrangement& arrangement, const std::optional<RodLimit>& held_by) {
            constexpr MayMove only_line{
                .turn = false, .stations = false, .forks = false, .counterweights = false};
            add(PlanKind::line, settable(arrangement, only_line, few_rounds), held_by);
        };
        if (bare_.counterweights.size() == problem_.before.counterweights.size())
            return tell(bare_, held_by_);
        // Better without the weights, unless they do what the line cannot.
        Arrangement arrangement = problem_.before;
        const std::optional<RodLimit> held_by = set_lines(problem_, arrangement, wish_.may.turn);
        if (worst_torque_n_m(problem_, bare_) <=
            std::max(worst_torque_n_m(problem_, arrangement), problem_.enough_n_m))
            return tell(bare_, held_by_);
        tell(arrangement, held_by);
    }

    void answer_forks() {
        Arrangement arrangement = bare_;
        const MayMove& may = wish_.may;
        if (may.stations) arrange(problem_, arrangement);
        if (problem_.items.size() > 1 && may.turn) set_turns(problem_, arrangement);
        const bool alone = problem_.items.size() == 1;
        const Arrangement lined = arrangement;
        if (may.forks) {
            const double price = set_forks(problem_, arrangement, alone && may.turn);
            constexpr double bad = 10;  // a tine in bone or without cover
            if (!alone && may.turn && price >= bad) {
                // Turning each as its forks like it, if the items then still balance.
                Arrangement freely = lined;
                const double freely_price = set_forks(problem_, freely, true);
                if (freely_price < price && worst_torque_n_m(problem_, freely) <= 2 * problem_.enough_n_m)
                    arrangement = freely;
            }
        }
        if (may.stations) set_stations(problem_, arrangement);
        // Forks and station have moved: once more, now that nothing moves much.
        const std::vector<Seat> seats = arrangement.seats;
        if (alone && may.line) held_by_ = set_lines(problem_, arrangement, may.turn);
        const bool settled = std::equal(seats.begin(), seats.end(), arrangement.seats.begin(),
                                        [](const Seat& a, const Seat& b) {
                                            return a.line.from == b.line.from && a.line.to == b.line.to;
                                        });
        if (!settled) {
            if (may.forks) set_forks(problem_, arrangement, false);
            if (may.stations) set_stations(problem_, arrangement);
        }
        best_ = settable(arrangement, may, many_rounds);
        add(PlanKind::line_forks, best_, held_by_);
    }

    // --- changes to the load itself ---

    /// One upon the other, as long as they are needed.
    void answer_changes() {
        if (!wish_.change.load) return;
        // Loose limbs are never ready: whatever else is tried, they are tied.
        std::vector<LoadChange> made = ties(assembly_);
        const auto attempt = [&](PlanKind kind, const std::optional<LoadChange>& more) {
            std::vector<LoadChange> changes = made;
            if (more) {
                // What stays off need not be tied.
                std::erase_if(changes, [&](const LoadChange& tie) {
                    return more->kind == LoadChange::Kind::leave_out && tie.kind == LoadChange::Kind::tie &&
                           tie.item == more->item;
                });
                changes.push_back(*more);
            }
            if (!changes.empty() && add_changed(kind, changes)) made = std::move(changes);
        };
        if (wanting()) attempt(PlanKind::tied, std::nullopt);
        if (wanting()) {
            const auto [load, analysis] = best_so_far();
            if (const auto rod = stouter_rod(load, analysis, wish_.change.rods()))
                attempt(PlanKind::other_rod, rod);
        }
        if (wanting() && plan_.answers[plan_.recommended].stops > 0) {
            const auto [load, analysis] = best_so_far();
            if (const auto fewer = one_fewer(load, analysis, problem_.forks_of))
                attempt(PlanKind::fewer, fewer);
        }
    }

    [[nodiscard]] bool wanting() const {
        return plan_.answers[plan_.recommended].analysis.verdict != Level::ready;
    }
    [[nodiscard]] std::pair<Assembly, Analysis> best_so_far() const {
        const PlanAnswer& best = plan_.answers[plan_.recommended];
        return {with_arrangement(load_of(best, assembly_), best.arrangement), best.analysis};
    }

    /// Plans the load with these changes, and tells that if it is the best so far. \returns whether it is
    bool add_changed(PlanKind kind, const std::vector<LoadChange>& changes) {
        std::shared_ptr<const Assembly> changed;
        try {
            changed = std::make_shared<const Assembly>(wish_.change.load(changes));
        } catch (const InputError&) {
            return false;  // there is no such load
        }
        PlanWish wish = wish_;
        wish.mountings = compared_by();
        Planner planner = Planner::of(*changed, wish, problem_.stop);
        planner.search({});
        PlanAnswer answer = std::move(planner.plan_.answers[planner.plan_.recommended]);
        answer.kind = kind;
        answer.effort += effort(changes);
        answer.changes = changes;
        answer.changed = std::move(changed);
        if (!better(answer, plan_.answers[plan_.recommended])) return false;
        plan_.recommended = plan_.answers.size();
        plan_.answers.push_back(std::move(answer));
        return true;
    }

    void answer_counterweights() {
        const auto with_weights = [this](Arrangement arrangement, PlanKind kind,
                                         std::optional<RodLimit> held_by) {
            arrangement.counterweights.clear();
            CounterweightGoal goal;
            goal.unbalance = all_unbalance(problem_, arrangement);
            if (kind == PlanKind::counterweight) goal.unbalance = goal.unbalance + rolled_more();
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
            constexpr MayMove only_weights{.line = false, .turn = false, .stations = false, .forks = false};
            // What a roll test found is not in the load as written, by which steps are weighed.
            const bool rolled = kind == PlanKind::counterweight && was_rolled(assembly_);
            add(kind, settable(arrangement, only_weights, rolled ? 0 : few_rounds), held_by);
        };
        with_weights(problem_.before, PlanKind::counterweight, std::nullopt);
        with_weights(best_, PlanKind::everything, held_by_);
    }

    /// What a roll test says that there is beside the unbalance as written. Things that are moved void the
    /// test; counterweights alone do not.
    [[nodiscard]] Unbalances rolled_more() const {
        if (!was_rolled(assembly_)) return no_unbalance();
        const Assembly believed = RollBelief(assembly_).load();
        Unbalances more;
        for (const Doneness end : {Doneness::raw, Doneness::cooked}) {
            more[static_cast<std::size_t>(end)] = unbalance_of(believed, end) - unbalance_of(assembly_, end);
        }
        return more;
    }

    /// Takes an answer up, unless it is there already under another name.
    void add(PlanKind kind, const Arrangement& arrangement, std::optional<RodLimit> held_by) {
        for (const PlanAnswer& told : plan_.answers) {
            if (effort(told.arrangement, arrangement) == 0) return;
        }
        const Assembly after = with_arrangement(assembly_, arrangement);
        PlanAnswer answer{.kind = kind,
                          .arrangement = arrangement,
                          .analysis = analysis_of(after, compared_by()),
                          .line_held_by = held_by};
        complete(answer);
        plan_.answers.push_back(std::move(answer));
    }

    /// Takes out what brings nothing. \pre the load as it stands is judged
    void leave_useless() {
        plan_.answers.erase(
            std::remove_if(plan_.answers.begin() + 1, plan_.answers.end(),
                           [this](const PlanAnswer& answer) { return !brings_something(answer); }),
            plan_.answers.end());
    }

    [[nodiscard]] Analysis analysis_of(const Assembly& load, int mountings) const {
        return judge(load, mountings, problem_.stop, &problem_.trees);
    }
    [[nodiscard]] int compared_by() const { return std::min(wish_.mountings, answer_mountings); }

    /// An arrangement as hands can set it.
    [[nodiscard]] Arrangement settable(const Arrangement& arrangement, const MayMove& may, int rounds) const {
        if (!wish_.steps) return arrangement;
        const MayMove both = may.and_only(wish_.may);
        return wish_.mountings > 0 ? by_hand(problem_, arrangement, *wish_.steps, both, rounds)
                                   : on_steps(problem_, arrangement, *wish_.steps);
    }

    /// Whether anything is better than as it stands.
    [[nodiscard]] bool brings_something(const PlanAnswer& answer) const {
        const PlanAnswer& base = plan_.answers.front();
        if (ready_chance(answer) > ready_chance(base) + chances_differ) return true;
        if (answer.stops != base.stops) return answer.stops < base.stops;
        return answer.cares < base.cares || answer.gravity_torque_worst_n_m < base.gravity_torque_worst_n_m;
    }

    /// All that follows from arrangement and analysis.
    void complete(PlanAnswer& answer) const {
        answer.gravity_torque_worst_n_m = worst_torque_n_m(problem_, answer.arrangement);
        answer.effort = effort(problem_.before, answer.arrangement);
        count_findings(answer);
    }

    static void count_findings(PlanAnswer& answer) {
        answer.stops = answer.cares = 0;
        for (const Finding& finding : answer.analysis.findings) {
            answer.stops += finding.level == Level::stop ? 1 : 0;
            answer.cares += finding.level == Level::care ? 1 : 0;
        }
    }

    // --- judging ---

    /// Chances that are nearer together are one: as few mountings tell no more.
    static constexpr double chances_differ = 0.05;
    static constexpr double stop_chances_differ = 0.02;
    /// What one more counterweight must bring of chance. From memory of what it takes.
    static constexpr double worth_a_weight = 0.03;

    [[nodiscard]] static double ready_chance(const PlanAnswer& answer) {
        return answer.analysis.mounted ? answer.analysis.mounted->chance.ready : 0;
    }
    [[nodiscard]] static double stop_chance(const PlanAnswer& answer) {
        return answer.analysis.mounted ? answer.analysis.mounted->chance.stop : 0;
    }
    [[nodiscard]] static int stops_as_written(const PlanAnswer& answer) {
        return static_cast<int>(
            std::count_if(answer.analysis.findings.begin(), answer.analysis.findings.end(),
                          [](const Finding& f) { return f.level == Level::stop && f.as_written; }));
    }

    [[nodiscard]] bool better(const PlanAnswer& a, const PlanAnswer& b) const {
        if (a.analysis.verdict != b.analysis.verdict) return a.analysis.verdict < b.analysis.verdict;
        if (stops_as_written(a) != stops_as_written(b)) return stops_as_written(a) < stops_as_written(b);
        if (std::abs(stop_chance(a) - stop_chance(b)) > stop_chances_differ)
            return stop_chance(a) < stop_chance(b);
        // A counterweight has to be found, clamped and kept count of: more of them must bring more.
        const auto weights = [](const PlanAnswer& answer) {
            return answer.analysis.mounted ? static_cast<double>(answer.arrangement.counterweights.size())
                                           : 0;
        };
        const double gain = (ready_chance(a) - ready_chance(b)) - worth_a_weight * (weights(a) - weights(b));
        if (std::abs(gain) > chances_differ) return gain > 0;
        if (a.cares != b.cares) return a.cares < b.cares;
        const bool ready = a.analysis.mounted && a.analysis.verdict == Level::ready;
        if (ready && a.effort != b.effort) return a.effort < b.effort;
        const double torque_a = a.gravity_torque_worst_n_m, torque_b = b.gravity_torque_worst_n_m;
        // Where chances tell no difference, what hardly works the motor is enough.
        const double enough_n_m =
            a.analysis.mounted
                ? std::max(problem_.enough_n_m, limits::leave_alone_use * assembly_.motor.rated_torque_n_m)
                : problem_.enough_n_m;
        const bool enough_a = torque_a <= enough_n_m, enough_b = torque_b <= enough_n_m;
        if (enough_a != enough_b) return enough_a;
        if (enough_a) return a.effort < b.effort;
        return torque_a < worth_telling * torque_b ||
               (torque_a * worth_telling < torque_b && a.effort < b.effort);
    }

    void choose() {
        std::vector<PlanAnswer>& answers = plan_.answers;
        std::stable_sort(answers.begin(), answers.end(),
                         [](const PlanAnswer& a, const PlanAnswer& b) { return a.kind < b.kind; });
        for (std::size_t i = 1; i < answers.size(); ++i) {
            if (better(answers[i], answers[plan_.recommended])) plan_.recommended = i;
        }
        const PlanAnswer& base = answers.front();
        if (base.analysis.verdict == Level::ready &&
            ready_chance(base) + chances_differ >= ready_chance(answers[plan_.recommended]) &&
            base.gravity_torque_worst_n_m <= limits::leave_alone_use * assembly_.motor.rated_torque_n_m) {
            plan_.recommended = 0;
        }
    }

    void finish() {
        std::vector<PlanAnswer>& answers = plan_.answers;
        for (PlanAnswer& a : answers) {
            a.worth_its_effort = std::none_of(answers.begin(), answers.end(), [&a](const PlanAnswer& b) {
                return b.effort <= a.effort && b.gravity_torque_worst_n_m <= a.gravity_torque_worst_n_m &&
                       (b.effort < a.effort || b.gravity_torque_worst_n_m < a.gravity_torque_worst_n_m);
            });
        }
        judge_fully(plan_.recommended);
        if (wish_.wanted && *wish_.wanted != plan_.recommended && *wish_.wanted < answers.size())
            judge_fully(*wish_.wanted);
        const PlanAnswer& best = answers[plan_.recommended];
        const Assembly after = with_arrangement(load_of(best, assembly_), best.arrangement);
        if (best.stops > 0) plan_.limits = plan_limits(after, best.analysis);
        if (best.analysis.mounted && ready_chance(best) < limits::worthy_chance &&
            stops_as_written(best) == 0)
            plan_.more_care = more_care(after, ready_chance(best));
    }

    void judge_fully(std::size_t answer) {
        if (answer == 0 || wish_.mountings <= compared_by()) return;
        PlanAnswer& a = plan_.answers[answer];
        a.analysis = analysis_of(with_arrangement(load_of(a, assembly_), a.arrangement), wish_.mountings);
        count_findings(a);
    }

    /// What halving one spread after the other comes to; none that helps by less than chances differ.
    [[nodiscard]] std::vector<MoreCare> more_care(const Assembly& load, double ready) const {
        using enum Input::Kind;
        const std::vector<std::pair<Input::Kind, std::vector<double Spread::*>>> cares{
            {line_from, {&Spread::rod_line_m}},
            {centre, {&Spread::centre_m}},
            {station, {&Spread::station_m}},
            {fork_station, {&Spread::fork_station_m}},
            {counterweight_radius,
             {&Spread::counterweight_station_m, &Spread::counterweight_radius_m,
              &Spread::counterweight_clock_rad}},
            {friction, {&Spread::friction}},
            {tie, {&Spread::limb_loose}}};
        std::vector<MoreCare> found;
        for (const auto& [kind, spreads] : cares) {
            Assembly careful = load;
            for (double Spread::*const spread : spreads) careful.spread.*spread /= 2;
            const double then = analysis_of(careful, compared_by()).mounted->chance.ready;
            if (then > ready + chances_differ) found.push_back({kind, then});
        }
        std::stable_sort(found.begin(), found.end(),
                         [](const MoreCare& a, const MoreCare& b) { return a.ready > b.ready; });
        return found;
    }

    /// Rounds of a search among hands' steps.
    static constexpr int few_rounds = 2, many_rounds = 6;

    const Assembly& assembly_;
    PlanWish wish_;
    PlanProblem problem_;
    Arrangement bare_;                 // without counterweights, lines set
    Arrangement best_;                 // with new forks and stations
    std::optional<RodLimit> held_by_;  // the lines of the latest of them
    Plan plan_;
};

}  // namespace

Plan make_plan(const Assembly& assembly,
               const std::function<void(double share, std::string_view what)>& stage,
               const std::stop_token& stop, const PlanWish& wish) {
    return Planner::of(assembly, wish, stop).run(stage);
}

}  // namespace evenspit::plan
