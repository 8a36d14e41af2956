// SPDX-License-Identifier: MIT
// Plans of twenty loads beside the best that a coarse grid finds: grid_against_plan MODELS [LOAD …].
#include <chrono>
#include <cstdlib>
#include <iostream>

#include <fmt/format.h>

#include "analysis/chance.h"
#include "load/load_file.h"
#include "plan/grid_search.h"

int main(int count, char** words) {
    using namespace evenspit;
    const std::vector<std::string> loads = test::loads_to_plan();
    for (std::size_t n = 0; n < loads.size(); ++n) {
        if (count > 2 && std::none_of(words + 2, words + count, [&](const char* word) {
                return static_cast<std::size_t>(std::atoi(word)) == n + 1;
            }))
            continue;
        try {
            const Assembly load = read_load_text(loads[n], "load.toml", words[1]);
            const auto begin = std::chrono::steady_clock::now();
            const plan::Plan plan = plan::make_plan(load);
            const double seconds =
                std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
            const plan::PlanAnswer &base = plan.answers[0], &best = plan.answers[plan.recommended];
            const test::FreshChance promised =
                test::fresh_chance(with_arrangement(load, best.arrangement), 300, 5);
            std::vector<Arrangement> hubs;
            for (const plan::PlanAnswer& answer : plan.answers) {
                if (answer.kind == plan::PlanKind::line_forks) hubs.push_back(answer.arrangement);
            }
            const test::GridBest grid = test::best_on_grid(load, hubs);
            const test::FreshChance found =
                test::fresh_chance(with_arrangement(load, grid.arrangement), 300, 7);
            std::cout << fmt::format(
                "{:2}: {} mm, base {:3.0f} ({:.0f}); plan {} {:3.0f} ({:.0f}) v{} fresh {:3.0f} ({:.0f}) "
                "{:.1f} s; grid of {} v{} {:3.0f} fresh {:3.0f} ({:.0f}){}\n",
                n + 1, load.title, 100 * base.analysis.mounted->chance.ready,
                100 * base.analysis.mounted->chance.stop, static_cast<int>(best.kind),
                100 * best.analysis.mounted->chance.ready, 100 * best.analysis.mounted->chance.stop,
                static_cast<int>(best.analysis.verdict), 100 * promised.ready, 100 * promised.stop, seconds,
                grid.tried, static_cast<int>(grid.written), 100 * grid.chance.ready, 100 * found.ready,
                100 * found.stop,
                found.ready > promised.ready + 0.05 && grid.written != Level::stop ? "  <== better" : "");
            const auto say = [&](const char* name, const Arrangement& a) {
                const Analysis analysis = judge(with_arrangement(load, a), 64);
                std::cout << fmt::format("    {}: at {:.0f} turn {:.0f}° line {:.0f} {:.0f} / {:.0f} {:.0f}",
                                         name, 1e3 * a.seats[0].at_m, a.seats[0].turn_rad * 57.2958,
                                         1e3 * a.seats[0].line.from.x(), 1e3 * a.seats[0].line.from.y(),
                                         1e3 * a.seats[0].line.to.x(), 1e3 * a.seats[0].line.to.y());
                for (const Fork& fork : a.forks)
                    std::cout << fmt::format("; fork {:.0f} clock {:.0f}°", 1e3 * fork.at_m,
                                             fork.clock_rad * 57.2958);
                for (const Counterweight& w : a.counterweights)
                    std::cout << fmt::format("; weight {:.0f} g at {:.0f}", 1e3 * w.mass_kg, 1e3 * w.at_m);
                std::cout << fmt::format(" ({:.0f}):", 100 * analysis.mounted->chance.ready);
                for (const Finding& f : analysis.findings) {
                    if (f.level != Level::ready)
                        std::cout << fmt::format(" {}{} {:.0f}{}", f.level == Level::stop ? "STOP " : "",
                                                 code_name(f.code), 100 * f.chance.value_or(-1),
                                                 f.as_written ? "w" : "");
                }
                std::cout << '\n';
            };
            say("base", plan.answers[0].arrangement);
            say("plan", best.arrangement);
            say("grid", grid.arrangement);
            std::cout.flush();
        } catch (const std::exception& error) {
            std::cout << n + 1 << ": " << error.what() << '\n' << loads[n];
        }
    }
}
