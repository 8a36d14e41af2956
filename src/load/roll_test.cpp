// SPDX-License-Identifier: MIT
#include "load/roll_test.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <initializer_list>

#include <fmt/format.h>

#include "load/assembly.h"
#include "load/thing.h"

namespace evenspit {
namespace {

/// Figures made whole and mixed: FNV-1a (G. Fowler, L. C. Noll, K.-P. Vo), from memory, folded to 32 bits.
class Mark {
  public:
    /// What differs by less than a step counts as the same, but for values at the edge of two steps.
    Mark& add(double value, double step) {
        auto whole = static_cast<std::uint64_t>(std::llround(value / step));
        for (int byte = 0; byte < 8; ++byte) {
            bits_ = (bits_ ^ (whole & 0xff)) * 0x100000001b3;
            whole >>= 8;
        }
        return *this;
    }
    Mark& places(std::initializer_list<double> values) {
        constexpr double step = 1e-6;
        for (const double value : values) add(value, step);
        return *this;
    }
    Mark& mass(double kg) { return add(kg, 1e-3); }
    [[nodiscard]] std::string text() const {
        return fmt::format("{:08x}", static_cast<std::uint32_t>(bits_ ^ (bits_ >> 32)));
    }

  private:
    std::uint64_t bits_ = 0xcbf29ce484222325;
};

double of(Facing facing) {
    return facing == Facing::point ? 0 : 1;
}

std::string mark_of(const Item& item) {
    const Seat& seat = item.seat;
    return Mark()
        .places({seat.at_m, of(seat.facing), seat.turn_rad, seat.line.from.x(), seat.line.from.y(),
                 seat.line.to.x(), seat.line.to.y()})
        .mass(item.body->mass.amount)
        .text();
}
std::string mark_of(const Fork& fork) {
    return Mark().places({fork.at_m, of(fork.points), fork.clock_rad}).mass(fork.mass_kg).text();
}
std::string mark_of(const Counterweight& weight) {
    return Mark().places({weight.at_m, weight.radius_m, weight.clock_rad}).mass(weight.mass_kg).text();
}

}  // namespace

const std::vector<std::pair<std::string, RollsOn>>& rolls_on_words() {
    static const std::vector<std::pair<std::string, RollsOn>> words = {
        {"bushings", RollsOn::bushings}, {"journals", RollsOn::journals}, {"rollers", RollsOn::rollers}};
    return words;
}

std::vector<std::string> rolled_marks(const Assembly& assembly,
                                      const std::vector<std::size_t>& counterweights) {
    std::vector<std::string> marks;
    for (const Item& item : assembly.items) marks.push_back(mark_of(item));
    for (const Fork& fork : assembly.forks) marks.push_back(mark_of(fork));
    for (const std::size_t index : counterweights) {
        if (index < assembly.counterweights.size()) marks.push_back(mark_of(assembly.counterweights[index]));
    }
    return marks;
}

std::string moved_since(const RollTest& test, const Assembly& assembly) {
    if (test.as_rolled.empty()) return "";
    const std::vector<std::string> now = rolled_marks(assembly, test.counterweights);
    if (now.size() != test.as_rolled.size()) return "what is on the rod";
    const std::size_t items = assembly.items.size(), forks = assembly.forks.size();
    for (std::size_t i = 0; i < now.size(); ++i) {
        if (now[i] == test.as_rolled[i]) continue;
        if (i < items) return assembly.items[i].name;
        if (i < items + forks) return fork_name(assembly.forks, i - items);
        return counterweight_name(test.counterweights[i - items - forks]);
    }
    return "";
}

bool was_rolled(const Assembly& assembly) {
    return std::any_of(assembly.roll_tests.begin(), assembly.roll_tests.end(),
                       [](const RollTest& test) { return test.counts; });
}

std::string why_it_locks(const Rod& rod, std::optional<RollsOn> on) {
    if (rod.section == Section::round || rod.bushing) return "";
    if (on == RollsOn::bushings || on == RollsOn::journals) return "";
    return fmt::format("a {} rod without bushings locks on its flats and comes to rest anywhere",
                       rod.section == Section::square ? "square" : "hexagonal");
}

}  // namespace evenspit
