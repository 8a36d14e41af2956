// SPDX-License-Identifier: MIT
#include "analysis/chance.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <numeric>
#include <optional>
#include <tuple>
#include <utility>
#include <vector>

#include "analysis/balance.h"
#include "analysis/clearance.h"
#include "analysis/figures.h"
#include "analysis/limits.h"
#include "analysis/mountings.h"
#include "analysis/roll_belief.h"
#include "units/parallel.h"
#include "units/standard_gravity.h"
#include "units/stopped.h"

namespace evenspit {
namespace {

constexpr std::size_t profile_places = 121;
constexpr std::size_t curve_places = 73;  // every 5 degrees, both ends
/// How many mountings a thread takes at a time: a copy of the load is made for each such piece, and of few
/// mountings every thread shall have some.
std::size_t piece_of(std::size_t mountings) {
    constexpr std::size_t most = 16, shares = 4;
    return std::clamp<std::size_t>(mountings / shares, 1, most);
}

/// What is kept of one mounting.
struct Tried {
    Level verdict = Level::ready;
    std::vector<Finding> bad;                    ///< not ready, and not seen by hand
    std::vector<std::optional<double>> figures;  ///< as figures_of()
    Balance balance{};
    double seen_torque_n_m = 0;  ///< gravity's, had no scan left anything open
    bool stalls = false;
    std::array<double, profile_places> radii{};
};

/// What findings of several mountings are one: told of the same thing.
using Key = std::tuple<Code, Thing::Kind, std::size_t, std::size_t, Thing::Kind, std::size_t, std::size_t>;

Key key_of(const Finding& f) {
    return {f.code, f.about.kind, f.about.index, f.about.part, f.other.kind, f.other.index, f.other.part};
}

/// The value that `share` of all do not exceed.
double quantile(std::vector<double>& values, double share) {
    const double rank = std::ceil(share * static_cast<double>(values.size())) - 1;
    const auto at = values.begin() + static_cast<std::ptrdiff_t>(std::max(0.0, rank));
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

class Trial {
  public:
    Trial(const Assembly& assembly, const Analysis& written, std::size_t count, const std::stop_token& stop,
          const SweepTrees* trees)
        : assembly_(assembly),
          end_(written.balance.cooked ? Doneness::cooked : Doneness::raw),
          mountings_(believed_mountings(assembly, count)),
          own_trees_(trees ? SweepTrees() : sweep_trees(assembly)),
          trees_(trees ? *trees : own_trees_),
          figures_(figures_of(assembly)),
          tried_(count),
          stop_(stop) {
        lay_stations(written.clearance);
        scanned_ = std::any_of(assembly.items.begin(), assembly.items.end(), [](const Item& item) {
            return item.body->body.centre_covariance_m2.has_value();
        });
        parallel_for(
            count,
            [&](std::size_t first, std::size_t last) {
                Assembly work = assembly_;
                for (std::size_t k = first; k < last; ++k) try_one(work, k);
            },
            piece_of(count));
    }

    [[nodiscard]] Chance chance() const {
        Chance chance{0, 0, 0, static_cast<int>(tried_.size())};
        for (const Tried& tried : tried_) {
            (tried.verdict == Level::stop   ? chance.stop
             : tried.verdict == Level::care ? chance.care
                                            : chance.ready) += 1;
        }
        const auto all = static_cast<double>(tried_.size());
        chance.ready /= all;
        chance.care /= all;
        chance.stop /= all;
        return chance;
    }

    [[nodiscard]] std::vector<FigureSpread> spread() const {
        std::vector<FigureSpread> spread;
        std::vector<double> values;
        for (std::size_t f = 0; f < figures_.size(); ++f) {
            values.clear();
            for (const Tried& tried : tried_) {
                if (tried.figures[f]) values.push_back(*tried.figures[f]);
            }
            if (values.empty()) continue;
            spread.push_back(
                {figures_[f], quantile(values, 0.05), quantile(values, 0.5), quantile(values, 0.95)});
        }
        return spread;
    }

    [[nodiscard]] Uncertainty uncertainty() const {
        std::vector<double> torques, seen;
        double stalls = 0;
        for (const Tried& tried : tried_) {
            torques.push_back(standard_gravity * tried.balance.unbalance_kg_m.norm());
            seen.push_back(tried.seen_torque_n_m);
            stalls += tried.stalls ? 1 : 0;
        }
        Uncertainty result{quantile(torques, 0.95), stalls / static_cast<double>(tried_.size()),
                           static_cast<int>(tried_.size())};
        if (scanned_) result.gravity_torque_p95_seen_n_m = quantile(seen, 0.95);
        return result;
    }

    [[nodiscard]] std::vector<Driver> drivers() const {
        const std::vector<Input>& inputs = mountings_.inputs();
        const Vec2 written = unbalance_of(assembly_, end_);
        std::vector<double> squares(tried_.size() * inputs.size());
        parallel_for(
            tried_.size(),
            [&](std::size_t first, std::size_t last) {
                Assembly work = assembly_;
                for (std::size_t k = first; k < last; ++k) {
                    for (std::size_t i = 0; i < inputs.size(); ++i) {
                        mountings_.mount_only(work, k, i);
                        squares[k * inputs.size() + i] = (unbalance_of(work, end_) - written).squaredNorm();
                    }
                }
            },
            piece_of(tried_.size()));
        std::vector<Driver> drivers;
        double all = 0;
        for (std::size_t i = 0; i < inputs.size(); ++i) {
            double sum = 0;
            for (std::size_t k = 0; k < tried_.size(); ++k) sum += squares[k * inputs.size() + i];
            all += sum;
            if (sum > 0) drivers.push_back({inputs[i], sum});
        }
        for (Driver& driver : drivers) driver.share /= all;
        std::stable_sort(drivers.begin(), drivers.end(),
                         [](const Driver& a, const Driver& b) { return a.share > b.share; });
        return drivers;
    }

    [[nodiscard]] Band torque_band() const {
        Band band;
        std::vector<double> values(tried_.size());
        for (std::size_t place = 0; place < curve_places; ++place) {
            const double degrees = 360.0 * static_cast<double>(place) / (curve_places - 1);
            const double angle = degrees * std::numbers::pi / 180;
            for (std::size_t k = 0; k < values.size(); ++k) {
                values[k] = motor_torque_at(tried_[k].balance, angle);
            }
            const double low = quantile(values, 0.05);
            band.push_back({degrees, low, quantile(values, 0.95)});
        }
        return band;
    }

    [[nodiscard]] Band profile_band() const {
        Band band;
        std::vector<double> values(tried_.size());
        for (std::size_t place = 0; place < stations_.size(); ++place) {
            for (std::size_t k = 0; k < values.size(); ++k) values[k] = tried_[k].radii[place];
            const double low = quantile(values, 0.05);
            band.push_back({stations_[place], low, quantile(values, 0.95)});
        }
        return band;
    }

    [[nodiscard]] const std::vector<Tried>& tried() const { return tried_; }

  private:
    void lay_stations(const Clearance& clearance) {
        if (clearance.outline.empty()) return;
        const double from = clearance.outline.pieces.front().x0, to = clearance.outline.pieces.back().x1;
        for (std::size_t place = 0; place < profile_places; ++place) {
            stations_.push_back(from + (to - from) * static_cast<double>(place) / (profile_places - 1));
        }
    }

    void try_one(Assembly& work, std::size_t k) {
        stop_if_asked(stop_);
        mountings_.mount(work, k);
        Analysis a = figures(
            work, [this](const Assembly& load) { return swept_load(load, mounting_step_m, trees_); },
            Detail::trial, stop_);
        Tried& tried = tried_[k];
        for (const FigureId& figure : figures_) tried.figures.push_back(value_of(figure, a));
        tried.balance = a.balance;
        tried.stalls = a.turning.stalls;
        for (std::size_t place = 0; place < stations_.size(); ++place)
            tried.radii[place] = a.clearance.outline.radius_at(stations_[place]);
        for (Finding& finding : a.findings) {
            if (finding.level == Level::ready || is_seen_by_hand(finding.code)) continue;
            tried.verdict = std::max(tried.verdict, finding.level);
            tried.bad.push_back(std::move(finding));
        }
        tried.seen_torque_n_m = standard_gravity * tried.balance.unbalance_kg_m.norm();
        if (!scanned_) return;
        mountings_.see_all_round(work, k);
        tried.seen_torque_n_m = standard_gravity * unbalance_of(work, end_).norm();
    }

    const Assembly& assembly_;
    Doneness end_;
    Mountings mountings_;
    SweepTrees own_trees_;
    const SweepTrees& trees_;
    std::vector<FigureId> figures_;
    std::vector<Tried> tried_;
    std::stop_token stop_;
    std::vector<double> stations_;
    bool scanned_ = false;
};

/// One finding over all mountings.
struct Tally {
    double stop = 0, not_ready = 0;        ///< shares
    std::vector<const Finding*> findings;  ///< one a mounting that has it
};

std::map<Key, Tally> tallies(const std::vector<Tried>& tried) {
    std::map<Key, Tally> found;
    const double one = 1 / static_cast<double>(tried.size());
    for (const Tried& mounting : tried) {
        for (const Finding& finding : mounting.bad) {
            Tally& tally = found[key_of(finding)];
            tally.not_ready += one;
            if (finding.level == Level::stop) tally.stop += one;
            tally.findings.push_back(&finding);
        }
    }
    return found;
}

/// Of the findings that are as bad as that, the one in the middle by value. \pre there are some
Finding middle(const std::vector<const Finding*>& findings, Level level) {
    std::vector<const Finding*> bad;
    for (const Finding* f : findings) {
        if (f->level >= level) bad.push_back(f);
    }
    std::stable_sort(bad.begin(), bad.end(), [](const Finding* a, const Finding* b) {
        return a->value.value_or(0) < b->value.value_or(0);
    });
    return *bad[bad.size() / 2];
}

double share_at(const Tally& tally, Level level) {
    return level == Level::stop ? tally.stop : tally.not_ready;
}

/// A finding that mountings alone make so bad: as it is in the middle one of those.
Finding by_chance(const Tally& tally, Level level) {
    Finding finding = middle(tally.findings, level);
    finding.level = level;
    finding.chance = share_at(tally, level);
    finding.as_written = false;
    return finding;
}

void take_chances(std::vector<Finding>& findings, std::map<Key, Tally> tallied) {
    for (Finding& finding : findings) {
        if (is_seen_by_hand(finding.code)) continue;
        const auto found = tallied.find(key_of(finding));
        if (found == tallied.end()) {
            if (finding.level != Level::ready) finding.chance = 0;
            continue;
        }
        const Tally& tally = found->second;
        const Level level = level_by_chance(tally.stop, tally.not_ready);
        if (level > finding.level) {
            finding = by_chance(tally, level);
        } else {
            finding.chance = share_at(tally, finding.level);
        }
        tallied.erase(found);
    }
    for (const auto& [key, tally] : tallied) {
        const Level level = level_by_chance(tally.stop, tally.not_ready);
        if (level != Level::ready) findings.push_back(by_chance(tally, level));
    }
}

Finding together(const std::map<Key, Tally>& tallied, const Chance& chance, Level level) {
    TogetherFacts facts;
    for (const auto& [key, tally] : tallied) {
        const double share = share_at(tally, level);
        if (share > 0) facts.most.push_back({tally.findings[0]->code, tally.findings[0]->about, share});
    }
    std::stable_sort(facts.most.begin(), facts.most.end(),
                     [](const Contribution& a, const Contribution& b) { return a.share > b.share; });
    constexpr std::size_t worth_telling = 3;
    if (facts.most.size() > worth_telling) facts.most.resize(worth_telling);
    const double share = level == Level::stop ? chance.stop : 1 - chance.ready;
    return {.level = level,
            .code = Code::together,
            .value = share,
            .limit = level == Level::stop ? limits::stop_chance : limits::care_chance,
            .facts = std::move(facts),
            .chance = share,
            .as_written = false};
}

}  // namespace

Level level_by_chance(double stop, double not_ready) {
    // Shares are sums of rounded parts: a hair below a limit is at it.
    constexpr double hair = 1e-12;
    if (stop >= limits::stop_chance - hair) return Level::stop;
    const bool care = not_ready >= limits::care_chance - hair || stop >= limits::stop_chance_care - hair;
    return care ? Level::care : Level::ready;
}

void add_mountings(Analysis& a, const Assembly& assembly, int mountings, const std::stop_token& stop,
                   const SweepTrees* trees) {
    if (mountings <= 0) return;
    const Trial trial(assembly, a, static_cast<std::size_t>(mountings), stop, trees);
    a.mounted =
        Mounted{trial.chance(), trial.spread(), trial.drivers(), trial.torque_band(), trial.profile_band()};
    a.uncertainty = trial.uncertainty();
    const std::map<Key, Tally> tallied = tallies(trial.tried());
    take_chances(a.findings, tallied);
    const Chance& chance = a.mounted->chance;
    const Level level = level_by_chance(chance.stop, 1 - chance.ready);
    const bool reached = std::any_of(a.findings.begin(), a.findings.end(),
                                     [level](const Finding& f) { return f.level >= level; });
    if (!reached) a.findings.push_back(together(tallied, chance, level));
    worst_first(a.findings);
    a.verdict = a.findings.empty() ? Level::ready : a.findings.front().level;
}

Analysis judge(const Assembly& assembly, int mountings, const std::stop_token& stop,
               const SweepTrees* trees) {
    Analysis a = analyse(assembly, stop);
    add_mountings(a, assembly, mountings, stop, trees);
    return a;
}

}  // namespace evenspit
