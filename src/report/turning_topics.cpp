// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include "analysis/limits.h"
#include "load/surface_reader.h"
#include "report/reader_units.h"
#include "report/topic_pages.h"
#include "rig/rig.h"

namespace evenspit {
namespace {

std::string per_cent(double share) {
    return format_quantity(share, Dimension::share, UnitSystem::metric);
}

Topic balance_topic() {
    return {
        "balance",
        {"unbalance", "heavy side"},
        "weight that is not the same all round the rod",
        {"A load is balanced when it stays wherever you turn it. Unbalance is what is left over: so much "
         "weight, so far from the rod's middle. Half the weight twice as far out pulls just the same.",
         "The side that ends up at the bottom when nothing holds the rod is its heavy side. The motor lifts "
         "it once in every turn.",
         "To mend it, run the rod nearer to the middle of the meat. Then turn the meat, or a fork. Last, "
         "hang a counterweight opposite the heavy side.",
         "Meat loses weight unevenly while it cooks. Evenspit judges the load raw and done, and tells "
         "which is worse."}};
}

Topic motor_topic() {
    return {
        "motor",
        {"torque", "rated torque"},
        "what the motor can lift, and what it is asked to",
        {"Torque is a pull round the rod: a weight times how far out it hangs. The motor has to lift the "
         "heavy side and to overcome friction where the rod lies.",
         "The rated torque is what a motor gives for hours. The stall torque stops it. Both are on its "
         "plate, or in its manual.",
         fmt::format("Motor use is what the load asks for, as a share of the rated torque. From {} on "
                     "take care; at {} do not start.",
                     per_cent(limits::motor_care), per_cent(limits::motor_stop)),
         "To lower it, balance the load, take less meat, or a stronger motor.",
         "Several rods on one motor share its torque: write rods = 6 into [motor], and each load file counts "
         "with a sixth.",
         "Pull the plug before you reach in, and keep hands and sleeves out of the gears. Outdoors, mains "
         "needs a residual-current device. The maker's manual comes first."}};
}

Topic turning_topic() {
    return {"turning",
            {"speed", "stall", "overrun", "knock", "play"},
            "how evenly the load goes round",
            {"A lopsided load goes slowly while its heavy side is lifted and fast while it falls. The side "
             "that stays below longest browns most.",
             fmt::format("Uneven by {} means: the fastest and the slowest differ by that share of the mean "
                         "speed. That asks for care.",
                         per_cent(limits::uneven_care)),
             "A stall is when the motor stands still. Then one side burns: switch it off and take the load "
             "off the fire.",
             "An overrun is when the falling side drives the gears. Gears have play, so the load drops "
             "through it and knocks.",
             "All of these go away with a better balance."}};
}

Topic rod_topic() {
    return {
        "rod",
        {"stress", "yield", "supports"},
        "whether the rod bends, and stays bent",
        {"The rod carries the meat like a beam between the motor's seat and the far bearing.",
         fmt::format("Stress is how hard the steel is pulled. Too hard, and the rod stays bent. Evenspit "
                     "counts it at the heat of the cook, for hot steel is weaker. From {} of what it bears, "
                     "take care.",
                     per_cent(limits::yield_care)),
         "A thicker rod helps most: a tenth more width bears a third more. Shorter between the supports "
         "helps, too.",
         "A support that pulls down is one that the load lifts the rod out of: hold it there, or move the "
         "load.",
         "The rod comes off hot enough to burn, and its end is sharp."}};
}

Topic sag_topic(UnitSystem units) {
    const Units told(units);
    return {
        "sag",
        {},
        "how far the rod bends down in its middle",
        {"Sag is how far the rod's middle hangs below a straight line between its supports. It brings the "
         "meat nearer to the coals, and every gap is told with it.",
         fmt::format("Over {} a rod is seen to wobble, and its seat works loose.",
                     told.given(limits::sag_care_m, Dimension::length)),
         "Sag falls fast with width: a rod a fifth thicker sags half as much. It grows with the weight, "
         "and most of all with the length between the supports.",
         "Look along the rod before you load it. A rod that is bent already adds to what is told here."}};
}

Topic grip_topic() {
    return {
        "grip",
        {"forks", "hold"},
        "whether the meat turns with the rod",
        {"The rod is slim, so it cannot turn the meat. The forks do: their tines press on flesh as they go "
         "round.",
         "Roasted meat is soft, and loses size. A fork that bites well raw can slip three hours later, so "
         "grip is told for the worst moment of the cook.",
         fmt::format("Grip use is what the load asks of a fork, as a share of what the flesh bears. From "
                     "{} on take care; at {} it slips.",
                     per_cent(limits::grip_care), per_cent(limits::grip_stop)),
         "Two forks, one from each end, hold best. Push their tines deep into thick meat, beside bone, "
         "and tighten the screws again as the meat shrinks.",
         "Stop the motor and wear gloves before you touch a fork: it is as hot as the fire."}};
}

Topic baskets_topic(UnitSystem units) {
    const Units told(units);
    return {
        "baskets",
        {"brackets", "skewers", "drum"},
        "what holds meat where forks do not",
        {"A pig is held at its spine, too: a bracket's legs go out through the back, one on each side of "
         "it, and a plate is bolted on them.",
         fmt::format("Small birds or fish lie in a flat basket that is closed on them. What can move in it "
                     "by more than {} flops at every turn.",
                     told.given(limits::basket_play_m, Dimension::length)),
         "Loose pieces tumble in a drum. They hold the motor back at every angle, and no counterweight "
         "helps. Half full they turn over best.",
         fmt::format("Without any fork, a square or hexagon rod holds pieces of up to {} by its edges. A "
                     "round one holds nothing.",
                     told.given(limits::rod_alone_kg, Dimension::mass)),
         "Nuts, wires and rod are as hot as the fire: motor off and gloves on."}};
}

Topic tines_topic(UnitSystem units) {
    const Units told(units);
    return {
        "tines",
        {"tine"},
        "where the prongs of a fork should run",
        {"A tine holds by the length of it that is in flesh. In the hollow of a bird it holds nothing; in "
         "bone it may not go in at all.",
         fmt::format("Cover is the flesh between a tine and the skin. Under {} the skin tears.",
                     told.given(limits::cover_care_m, Dimension::length)),
         "A tine that comes out of the meat can strike lid or coals, and hands.",
         "Turn the fork on the rod, or move it along, until the tines pass beside the bone. On a square "
         "rod a fork goes on in quarter turns.",
         "You see all this while you mount the load, so mend it there and then."}};
}

Topic clearance_topic(UnitSystem units) {
    const Units told(units);
    return {
        "clearance",
        {"gap", "gaps", "keep"},
        "room between what turns and the cooker",
        {"A gap is the room between whatever turns (meat, limbs, forks, weights) and a wall, the lid or "
         "the coals, at the nearest place of a whole turn, with the rod's sag.",
         fmt::format("Under {} it counts as touching: meat gives, and a rod whips.",
                     told.given(limits::gap_stop_m, Dimension::length)),
         fmt::format("Keep is the gap that you want: {} usually, {} from fire. A smaller one asks for care.",
                     told.given(usual_keep_m, Dimension::length),
                     told.given(usual_fire_keep_m, Dimension::length)),
         "Tie limbs to the body: a loose wing swings out by its whole length.",
         "Turn the load once round by hand, cold, with the lid shut, before you light the fire. Fat that "
         "drips on coals flares up: leave room for that."}};
}

Topic place_topic(UnitSystem units) {
    const Units told(units);
    return {
        "place",
        {"places", "hub", "usable"},
        "where things sit along the rod",
        {"Meat, forks and weights need a stretch of rod each. The rod's usable stretch is what lies inside "
         "the cooker and is free of bearings.",
         fmt::format("A fork's hub belongs at the meat's end. Pressed in more than {} it sits inside, and "
                     "the tines have less to hold.",
                     told.given(limits::hub_stop_m, Dimension::length)),
         fmt::format("Through a joint the rod needs flesh all round it. Under {} it works out through the "
                     "skin.",
                     told.given(limits::cover_care_m, Dimension::length)),
         "The middle of the meat's weight should lie between its forks, or it hangs out over one of them.",
         "Cooks set the load a little toward the rod's point, so that the driven end seats easily.",
         "What you see and mend while you mount the load counts as the load file has it, never by chance."}};
}

Topic clock_topic() {
    return {
        "clock",
        {"dial", "hours", "angle"},
        "how places round the rod are told",
        {"Look at the rod from its point, at the start of the turn. Think of a clock face: 12 is up, 3 is "
         "right.",
         "\"At 2 o'clock\" is then a place round the rod. An hour is 30 degrees. Half an hour is as finely "
         "as hands hold a bird to it.",
         "Load files count the same places in degrees: 0 deg at 3 o'clock, 90 deg at 12, 180 deg at 9, 270 "
         "deg at 6. They grow against the hands.",
         "To mark a place, put a strip of tape round the rod and draw the 12 on it."}};
}

Topic line_topic() {
    return {
        "rod line",
        {"line"},
        "where the rod goes through the meat",
        {"The rod line is the way of the rod through the meat. It decides the balance more than anything "
         "else you do: a finger's width off is more than a counterweight can put right.",
         "Through a bird it goes in at the vent and out at the neck. Where it goes is told from the rim of "
         "each "
         "opening, as a finger feels it: so far from the rim on the breast side, so far to the left.",
         "Through a joint it is told where the rod meets the skin, from the top, the bottom or a side, as "
         "a board held there touches it.",
         "In a load file, line = { from = …, to = … } gives both ends, in the meat's own axes: to the "
         "side, and up.",
         "evenspit plan works out the best line that a rod can really take, past keel and spine."}};
}

Topic stations_topic() {
    return {"stations",
            {"station", "tape"},
            "how places along the rod are told",
            {"A station is a distance along the rod, from its square end, the end that seats in the motor.",
             "Hook a tape measure over that end, and put a strip of tape on the rod where the station is.",
             "A fork's station is that of its hub. A bird's is that of its middle, half way between vent and "
             "neck.",
             "Where the rod has a shoulder to measure from, give it as mark = \"40 mm\" under [rod]; places "
             "are then told from there, too."}};
}

Topic counterweight_topic() {
    return {
        "counterweight",
        {"counterweights", "weight"},
        "a weight on an arm, opposite the heavy side",
        {"A counterweight pulls as hard on the light side as the meat does on the heavy side. What counts "
         "is its weight times how far out it sits: half the weight twice as far out does the same.",
         "Set it last, when meat and forks sit as they will stay. A roll test tells where.",
         "It has to clear the cooker all round, and what it hangs on must not turn on the rod: tighten it "
         "well, or it flies off.",
         "Weights that you have go under [stock]; evenspit plan and evenspit roll then use those.",
         "It comes off hot. Use gloves."}};
}

}  // namespace

std::vector<Topic> turning_topics(UnitSystem units) {
    return {balance_topic(),        motor_topic(),      turning_topic(),       rod_topic(),
            sag_topic(units),       grip_topic(),       baskets_topic(units),  tines_topic(units),
            clearance_topic(units), place_topic(units), counterweight_topic(), clock_topic(),
            stations_topic(),       line_topic()};
}

}  // namespace evenspit
