// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include "analysis/chance.h"
#include "analysis/limits.h"
#include "body/meat_density.h"
#include "cook/schedule.h"
#include "load/spread.h"
#include "report/food_words.h"
#include "report/reader_units.h"
#include "report/topic_pages.h"
#include "units/fahrenheit.h"

namespace evenspit {
namespace {

std::string hours(double seconds) {
    return fmt::format("{:.0f} hours", seconds / 3600);
}

std::string in_hundred(double share) {
    return fmt::format("{:.0f} of 100", 100 * share);
}

Topic body_topic() {
    return {
        "body",
        {"limbs", "trussing"},
        "the bird or joint itself: limbs, giblets, weight",
        {"Evenspit makes a body from its weight and, where you have them, tape measures; or from a scan.",
         "Truss a bird: wings to its sides, legs to the tail. Whatever hangs loose swings out as the rod "
         "turns, shifts the balance and may strike the cooker.",
         "Fold a pig's legs over its belly and tie them there, or stretch them along the rod and tie them "
         "to it: wet butcher's string or wire, clear of the fire. Loose legs reach more than twice as far.",
         "Take out the bag of giblets and any clips or plastic timers. Cut string so that no end hangs "
         "into the fire."}};
}

Topic density_topic(UnitSystem units) {
    const Units told(units);
    const body::DensityRange bird = body::flesh_density_range(body::Meat::poultry),
                             pork = body::flesh_density_range(body::Meat::pork);
    return {
        "density",
        {"volume"},
        "whether weight and shape belong together",
        {fmt::format("Flesh with its bones weighs {} to {} in birds, and from {} in fat pork, with 6 % "
                     "either way for the shape. The sources are tables of foods (USDA).",
                     told.density(bird.least_kg_m3), told.density(bird.greatest_kg_m3),
                     told.density(pork.least_kg_m3)),
         "A whole bird whose hollow is not in its scan holds air, and may weigh a quarter less for its "
         "size.",
         "Lighter than that: a board, a rack, a plate or a gap beneath was taken for meat, or the scan is "
         "too large. Say what it rests on, or scan it again on a board.",
         "Heavier than that: the scan is too small, or a part of the body is missing from it.",
         "Far off, by eight or a thousand times: a unit is wrong, of the shape or of the weight."}};
}

Topic food_topic(UnitSystem units) {
    const Units told(units);
    return {
        "food",
        {"safety", "thermometer", "stuffing"},
        "whether it becomes safe to eat, and in time",
        {fmt::format("A thermometer decides when meat is done, never this program. Poultry and stuffing "
                     "must reach {} in the coldest place (USDA).",
                     told.temperature(fahrenheit_to_k(165))),
         "Stop the motor, then push the thermometer into the thickest flesh, clear of bone and of the rod.",
         fmt::format("Between {} and {} bacteria grow fast. Meat should not stay there for more than {} "
                     "on its way up.",
                     told.temperature(limits::lukewarm_from_k), told.temperature(limits::lukewarm_to_k),
                     hours(limits::lukewarm_care_s)),
         fmt::format("Keep the cooker at {} or more. Once done, serve within {} or keep it hot.",
                     told.temperature(limits::cooker_care_k), hours(limits::wait_care_s)),
         "Wash hands, board and knife after raw poultry. Do not wash the bird."}};
}

Topic thawing_topic(UnitSystem units) {
    const double bird_kg = units == UnitSystem::us ? 13 * unit_factors::pound : 6;
    return {
        "thawing",
        {"frozen", "thaw"},
        "never put frozen meat on a spit",
        {"Ice in the middle keeps it cold for hours while the outside burns, and the rod cannot be pushed "
         "through.",
         fmt::format("A bird of {} thaws in {} in the refrigerator, or in {} in cold water that you change "
                     "every 30 minutes (USDA).",
                     Units(units).mass(bird_kg), thaw_time_text(cook::thaw_in_refrigerator_s(bird_kg)),
                     thaw_time_text(cook::thaw_in_cold_water_s(bird_kg))),
         "Never thaw it on the kitchen table. What was thawed in water is cooked at once.",
         "Put it in a tray: its juice carries germs. Feel inside for ice before you spit it."}};
}

Topic cook_topic() {
    return {
        "cook",
        {"roast", "done"},
        "what heat does to the load, hour by hour",
        {"With a section [cook] in the load file, evenspit follows heat through the meat: when each place "
         "gets how hot, what it loses, and how balance and grip change.",
         "Meat shrinks and softens. Push the forks in and tighten their screws when you are told to, with "
         "the motor off and gloves on.",
         "Heat goes on inward after the load comes off: that is carry-over, and part of the rest.",
         "Times are given as a range, since no two birds and fires are alike. Start to check at the early "
         "end. A thermometer decides.",
         "To take it down: motor off, plug out, forks first, the rod last. All of it is hot."}};
}

Topic fire_topic() {
    return {
        "fire",
        {"coals", "fuel", "gas"},
        "how much fuel, and where the coals lie",
        {"Coals heat what they see. Beside the load they brown it evenly and fat does not drip on them; "
         "right under it, fat flares up.",
         fmt::format("Up to {} more fuel than needed does no harm. With much more the cooker gets too hot "
                     "even with its vents shut.",
                     Units::share(limits::fuel_over_care)),
         "A bed that is too small cannot burn fast enough, however high it is heaped.",
         "Burn charcoal and gas outdoors only: carbon monoxide kills, and has no smell. Light gas with the "
         "lid open, and check its hose.",
         "Keep a lid or an extinguisher at hand, and children and sleeves away. Local fire rules and the "
         "cooker's manual come first."}};
}

Topic chance_topic() {
    return {
        "chance",
        {"mountings", "mounting", "ready", "care", "stop", "verdict"},
        "why a verdict counts how often it goes wrong",
        {"Nobody mounts a load just as it is drawn. Evenspit mounts it again and again, each time a little "
         "off, as hands and scales are, and counts.",
         fmt::format("stop: as written, or in {} mountings or more. Do not put it on the fire.",
                     in_hundred(limits::stop_chance)),
         fmt::format("care: it can turn, but it is not ready in {} or more, or stops in {}.",
                     in_hundred(limits::care_chance), in_hundred(limits::stop_chance_care)),
         "ready: nothing to fix.",
         "What you see and mend while you mount it, such as a tine that comes out, counts only as the "
         "load file has it.",
         fmt::format("{} mountings are tried; --mountings N tries more, 0 judges the load as written.",
                     usual_mountings)}};
}

Topic spread_topic(UnitSystem units) {
    const Units told(units);
    return {
        "spread",
        {"how far off"},
        "how far things may be from what the load file says",
        {fmt::format("Each figure of the section [spread] is one standard deviation: two times in three "
                     "hands are off by less. A rod line is usually within {} so, a scale within {}.",
                     told.given(Spread{}.rod_line_m, Dimension::length), Units::share(Spread{}.mass)),
         "If you measure well, say so there, and the chance of going wrong falls.",
         "none = true judges the load as if nothing could be off. evenspit keys spread lists all figures."}};
}

Topic roll_topic() {
    return {
        "roll test",
        {"roll", "rails"},
        "find the heavy side before the fire is lit",
        {"Take the loaded rod off the motor and lay it on two level rails or bushings. It rolls until its "
         "heavy side is down.",
         "A square rod locks on its flats: slip two round bushings on it first.",
         "Read what is at the bottom as on a clock, and tell it: evenspit roll LOAD.toml --down \"210 "
         "deg\". The answer is a counterweight, and where to hang it.",
         "Push it a little from several places: if it stays anywhere, it is balanced. That counts as an "
         "answer, too.",
         "A loaded rod is heavy, and its end is sharp: let two lift it, and keep fingers from under it."}};
}

Topic scan_topic() {
    return {
        "scan",
        {"scans", "phone"},
        "a body from a phone's scan instead of a model",
        {"Walk round the bird with a scanning app and save a PLY, OBJ, STL, glTF or points. evenspit scan "
         "closes it and weighs it out.",
         "The board under it hides its underside, and a guess closes that. Where it matters, scan twice, "
         "as it lies and turned over.",
         "Give the weight with --mass, and the unit with --scan-unit if the format has none.",
         "Scans come out too large or too small. Set a can or a block on the board beside the bird and name "
         "it: --beside \"can 73 mm\" is its width across, --beside \"block 100 mm\" its height. Both are cut "
         "away, and the bird gets their scale.",
         "Scan it as it goes on the rod: trussed, giblets out. Do not leave it out of the refrigerator "
         "for long."}};
}

Topic assumption_topic() {
    return {
        "assumption",
        {"assumed", "assumptions"},
        "what the load file did not say",
        {"Where a load file leaves something out, evenspit takes what is usual and says so under "
         "\"Assumed\".",
         "Look through that list once. If one of them is not so for you, write the key that it names into "
         "the load file.",
         "evenspit keys lists every key, with what counts where it is not given."}};
}

}  // namespace

std::vector<Topic> cooking_topics(UnitSystem units) {
    return {body_topic(),        density_topic(units), food_topic(units), thawing_topic(units),
            cook_topic(),        fire_topic(),         roll_topic(),      chance_topic(),
            spread_topic(units), scan_topic(),         assumption_topic()};
}

}  // namespace evenspit
