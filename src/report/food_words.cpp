// SPDX-License-Identifier: MIT
#include "report/food_words.h"

#include <cmath>
#include <vector>

#include <fmt/format.h>

#include "analysis/limits.h"
#include "load/cook_places.h"
#include "report/reader_units.h"
#include "report/subject_words.h"
#include "units/listed.h"

namespace evenspit {
namespace {

std::string_view fuel_of(const Assembly& assembly) {
    return fuel_word(assembly.cook ? assembly.cook->fire.fuel : FuelKind::lump_charcoal);
}

/// "its breast", "its breast and its stuffing".
std::string its_places(const std::vector<std::string>& places) {
    std::vector<std::string> words;
    words.reserve(places.size());
    for (const std::string& place : places) words.push_back("its " + place_words(place));
    return listed(words, "and");
}

class FoodWords {
  public:
    FoodWords(const Assembly& assembly, UnitSystem system) : assembly_(assembly), units_(system) {}

    [[nodiscard]] std::string of(const Finding& f) const {
        switch (f.code) {
            case Code::frozen_inside:
                return frozen(f);
            case Code::undercooked:
                return undercooked(f);
            case Code::not_done:
                return not_done(f);
            case Code::by_carry_over:
                return carry_over(f);
            case Code::lukewarm:
                return lukewarm(f);
            case Code::cool_cooker:
                return fmt::format(
                    "The cooker is at {}, under the {} that USDA asks of slow cooking: food stays lukewarm "
                    "too long. Run it hotter.",
                    units_.temperature(*f.value, {*f.limit}), units_.temperature(*f.limit));
            case Code::long_wait:
                return fmt::format(
                    "The load may be done {} before it is served, and cooked food must not stand about for "
                    "more than {} (USDA). Keep it at {} or hotter until then.",
                    Units::minutes(*f.value), Units::minutes(*f.limit),
                    units_.temperature(limits::kept_hot_k));
            case Code::too_much_fuel:
                return too_much_fuel(f);
            case Code::too_little_fuel:
                return fmt::format(
                    "{} of {} will not last: this cook takes about {}. Lay more, or add some on the way.",
                    units_.mass(*f.value), fuel_of(assembly_),
                    units_.rough_mass(f.get<FuelFacts>().enough_kg));
            default:
                return small_bed(f.get<BedFacts>());
        }
    }

  private:
    [[nodiscard]] std::string name(const Finding& f) const { return thing_name(f.about, assembly_); }

    [[nodiscard]] std::string frozen(const Finding& f) const {
        const auto& facts = f.get<FrozenFacts>();
        const bool bird = assembly_.items[f.about.index].bird;
        const std::string cold =
            f.value ? fmt::format(" ({} at its coldest)", units_.temperature(*f.value)) : "";
        return fmt::format(
            "{} is frozen inside{}. Never spit a frozen {}. Thaw it first: {} in the refrigerator, or {} in "
            "cold water that you change every 30 minutes, and then cook it at once (USDA).",
            name(f), cold, bird ? "bird" : "roast", thaw_time_text(facts.refrigerator_s),
            thaw_time_text(facts.cold_water_s));
    }

    [[nodiscard]] std::string undercooked(const Finding& f) const {
        std::vector<std::string> places = f.get<PlacesFacts>().places;
        const std::string worst = place_words(places.front());
        places.erase(places.begin());
        const std::string others =
            places.empty() ? ""
                           : fmt::format(" {} {} short too.", at_start_of_sentence(its_places(places)),
                                         places.size() == 1 ? "falls" : "fall");
        return fmt::format(
            "{} does not get hot enough to be safe: its {} reaches {} at most, rest included, and must "
            "reach {} (USDA).{} Cook it longer or hotter. {}",
            name(f), worst, units_.temperature(*f.value, {*f.limit}), units_.temperature(*f.limit), others,
            thermometer_text());
    }

    [[nodiscard]] std::string not_done(const Finding& f) const {
        const std::string after = f.value ? " after " + Units::minutes(*f.value) : "";
        const std::vector<std::string>& places = f.get<PlacesFacts>().places;
        return fmt::format(
            "{} is not done{}: {} {} not as hot as you want {}. Cook it hotter, or set a lower temperature "
            "to take it off at.",
            name(f), after, its_places(places), places.size() == 1 ? "is" : "are",
            places.size() == 1 ? "it" : "them");
    }

    [[nodiscard]] std::string carry_over(const Finding& f) const {
        const auto& facts = f.get<CarryOverFacts>();
        const bool one = facts.places.size() == 1;
        const std::string then = f.value ? fmt::format(" It has {} when it comes off.",
                                                       units_.temperature(*f.value, {facts.safe_k}))
                                         : "";
        return fmt::format(
            "{} is safe only after a rest: {} {} {} (USDA) up to {} after it comes off.{} Measure again "
            "after the rest. If it falls short, put it back on.",
            name(f), its_places(facts.places), one ? "reaches" : "reach", units_.temperature(facts.safe_k),
            Units::minutes(facts.after_s), one ? then : "");
    }

    [[nodiscard]] std::string lukewarm(const Finding& f) const {
        const auto& facts = f.get<LukewarmFacts>();
        return fmt::format(
            "{} stays lukewarm too long: its {} takes {} from {} to {}, more than {} ({}). Cook it hotter, "
            "or "
            "take a smaller one.",
            name(f), place_words(facts.place), Units::minutes(*f.value), units_.temperature(facts.from_k),
            units_.temperature(facts.to_k), Units::minutes(*f.limit),
            facts.published ? "USDA" : "common practice");
    }

    [[nodiscard]] std::string too_much_fuel(const Finding& f) const {
        const auto& facts = f.get<FuelFacts>();
        const std::string_view fuel = fuel_of(assembly_);
        std::string words = fmt::format("{} of {} is more than this cook takes: {} is enough.",
                                        units_.mass(*f.value), fuel, units_.rough_mass(facts.enough_kg));
        if (facts.too_hot_by_k > limits::too_hot_care_k) {
            words = fmt::format(
                "With {} of {} the cooker stays {} too hot even with its vents shut, since air comes in "
                "where the rod goes through: a large fire cannot be choked.",
                units_.mass(*f.value), fuel, units_.degrees(facts.too_hot_by_k));
        }
        return words + fmt::format(" Lay {} or less, and add some if it fades too soon.",
                                   units_.rough_mass(facts.enough_kg));
    }

    [[nodiscard]] std::string small_bed(const BedFacts& facts) const {
        return fmt::format(
            "{} of {} is more than this cooker's bed holds. Lay what fits, and add some as it burns down.",
            units_.rough_mass(facts.fuel_kg), fuel_of(assembly_));
    }

    const Assembly& assembly_;
    Units units_;
};

}  // namespace

std::string_view fuel_word(FuelKind fuel) {
    switch (fuel) {
        case FuelKind::lump_charcoal:
            return "charcoal";
        case FuelKind::briquettes:
            return "briquettes";
        case FuelKind::wood:
            return "wood";
        case FuelKind::gas:
            break;
    }
    return "gas";
}

std::string thaw_time_text(double seconds) {
    constexpr double half_day_s = 12 * 3600, five_min_s = 300;
    if (seconds <= 4 * half_day_s) return Units::minutes(five_min_s * std::ceil(seconds / five_min_s));
    const double halves = std::ceil(seconds / half_day_s);
    const double days = std::floor(halves / 2);
    return fmt::format("{:.0f}{} days", days, halves > 2 * days ? " 1/2" : "");
}

std::string food_finding_text(const Finding& finding, const Assembly& assembly, UnitSystem units) {
    return FoodWords(assembly, units).of(finding);
}

std::string place_words(std::string_view place) {
    return std::string(place == place_name(PlaceKind::core) ? "coldest point" : place);
}

std::string_view thermometer_text() {
    return "A thermometer decides, never this program: stop the motor to measure.";
}

std::string lethality_text(double logs) {
    constexpr double told_to = 20;  // what is beyond is no news
    const std::string many =
        logs > told_to ? fmt::format("more than {:.0f}", told_to) : fmt::format("{:.1f}", logs);
    return fmt::format(
        "By USDA's hold times its coldest point has had {} tenfold reductions of Salmonella. That is "
        "information only: the times are not validated for dry heat, an open pit or a rotisserie.",
        many);
}

}  // namespace evenspit
