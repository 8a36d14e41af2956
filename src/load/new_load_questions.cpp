// SPDX-License-Identifier: MIT
#include "load/new_load_questions.h"

#include <algorithm>
#include <array>
#include <utility>

#include "body/bird.h"
#include "body/shape.h"
#include "load/key_words.h"
#include "load/new_load.h"
#include "rig/plane_room.h"

namespace evenspit {
namespace {

using Questions = std::vector<NewLoadQuestion>;

bool answered(const NewLoadAnswers& answers, std::string_view id) {
    return answers.contains(id);
}

bool is(const NewLoadAnswers& answers, std::string_view id, std::string_view answer) {
    const auto found = answers.find(id);
    return found != answers.end() && found->second == answer;
}

/// Whether something is roasted that has limbs to tie and is no bird.
bool roasts_pig(const NewLoadAnswers& answers) {
    const auto roast = answers.find("roast");
    return roast != answers.end() && !body::is_bird(roast->second) && !body::trussings(roast->second).empty();
}

std::function<bool(const NewLoadAnswers&)> where_own(std::string id) {
    return [id = std::move(id)](const NewLoadAnswers& answers) { return is(answers, id, own_figures); };
}

NewLoadQuestion quantity(Dimension dimension, std::string id, std::string section, std::string ask,
                         std::string about, std::string example) {
    NewLoadQuestion question{.id = std::move(id),
                             .section = std::move(section),
                             .ask = std::move(ask),
                             .about = std::move(about),
                             .form = AnswerForm::quantity,
                             .example = std::move(example)};
    question.dimension = dimension;
    return question;
}

Questions roast_questions() {
    const std::string section = "What you roast";
    NewLoadQuestion roast{.id = "roast",
                          .section = section,
                          .ask = "What do you roast? A name of the list, or the file of a scan.",
                          .about = "What is roasted: turkey, \"leg of lamb\" …, or SCAN.ply",
                          .form = AnswerForm::roast,
                          .example = "turkey",
                          .words = body::shape_names()};
    NewLoadQuestion mass = quantity(Dimension::mass, "mass", section, "What does it weigh?",
                                    "What the kitchen scale says", "5.9 kg");
    mass.how = "On the kitchen scale, thawed, giblets out, without stuffing.";
    mass.key = "item[1].mass";
    NewLoadQuestion unit{.id = "scan-unit",
                         .section = section,
                         .ask = "In which unit is the scan?",
                         .about = "The scan's unit of length, where its format has none",
                         .form = AnswerForm::word,
                         .example = "m",
                         .how = "The scanning app says so where it saves the file. Most write metres.",
                         .key = "item[1].scan_unit",
                         .usual = "m",
                         .words = {"m", "cm", "mm", "in", "ft"},
                         .only_if = roasts_scan};
    NewLoadQuestion rough{.id = "rough",
                          .section = section,
                          .ask = "Is it a rough scan, with holes or with the board in it?",
                          .about = "Whether the scan has holes or the board in it: yes or no",
                          .form = AnswerForm::word,
                          .example = "yes",
                          .key = "item[1].clean",
                          .usual = "yes",
                          .words = {"yes", "no"},
                          .only_if = roasts_scan};
    std::vector<std::string> carriers{std::string(as_it_looks)};
    for (const std::string& carrier : names_of(rests_on_words())) carriers.push_back(carrier);
    NewLoadQuestion rests_on{
        .id = "rests-on",
        .section = section,
        .ask = "What did it lie on while it was scanned?",
        .about = "What a rough scan lies on",
        .form = AnswerForm::word,
        .example = "rack",
        .how = "That is cut away from the scan. Where nothing is told, it is looked for.",
        .key = "item[1].rests_on",
        .usual = std::string(as_it_looks),
        .words = std::move(carriers),
        .only_if = [](const NewLoadAnswers& answers) {
            return roasts_scan(answers) && is(answers, "rough", "yes");
        }};
    NewLoadQuestion trussing{.id = "trussing",
                             .section = section,
                             .ask = "How is it tied?",
                             .about = "How a bird is tied",
                             .form = AnswerForm::word,
                             .example = "tight",
                             .how = "Limbs that hang loose swing out and strike walls and coals: tie them.",
                             .key = "item[1].trussing",
                             .usual = "tight",
                             .words = names_of(trussing_words_of("turkey")),
                             .only_if = roasts_bird};
    NewLoadQuestion legs{.id = "legs",
                         .section = section,
                         .ask = "How are its legs tied: folded over the belly, or stretched along the rod?",
                         .about = "How a pig's legs are tied",
                         .form = AnswerForm::word,
                         .example = "folded",
                         .how = "Legs that hang loose swing out and strike walls and coals: tie them.",
                         .key = "item[1].trussing",
                         .usual = "folded",
                         .words = names_of(trussing_words_of("suckling pig")),
                         .only_if = roasts_pig};
    return {std::move(roast),    std::move(mass),     std::move(unit), std::move(rough),
            std::move(rests_on), std::move(trussing), std::move(legs)};
}

Questions tape_questions() {
    const std::string section = "What you roast";
    const auto tape = [&](const char* name, const char* ask, const char* about, const char* example) {
        NewLoadQuestion question =
            quantity(Dimension::length, std::string("tape-") + name, section, ask, about, example);
        question.key = std::string("item[1].tape.") + name;
        question.may_skip = true;
        question.only_if = [](const NewLoadAnswers& answers) { return !roasts_scan(answers); };
        return question;
    };
    NewLoadQuestion length = tape("length", "How long is it by the tape?", "Its length by the tape", "37 cm");
    length.how = "A bird from the drumsticks' ends to the neck, a joint over all.";
    NewLoadQuestion girth = tape("girth", "How far is it round, where it is thickest?",
                                 "Round a bird where it is thickest", "66 cm");
    girth.only_if = roasts_bird;
    NewLoadQuestion missing{.id = "missing",
                            .section = section,
                            .ask = "Which limbs are missing?",
                            .about = "Limbs torn off: \"left wing, right wing\"",
                            .form = AnswerForm::words,
                            .example = "left wing",
                            .how = "Torn or cut off, and not on the scale.",
                            .key = "item[1].missing",
                            .may_skip = true,
                            .words = body::bird_limbs(),
                            .only_if = roasts_bird};
    NewLoadQuestion stuffing = quantity(Dimension::mass, "stuffing", section, "What does the stuffing weigh?",
                                        "The stuffing, by weight", "400 g");
    stuffing.key = "item[1].stuffing";
    stuffing.may_skip = true;
    stuffing.only_if = roasts_bird;
    return {std::move(length), std::move(girth), std::move(missing), std::move(stuffing)};
}

NewLoadQuestion model_question(std::string kind, std::string ask, std::string about, std::string example) {
    const std::string id = kind;
    std::string section = kind;
    section[0] = static_cast<char>(section[0] - 'a' + 'A');
    return {.id = id,
            .section = std::move(section),
            .ask = std::move(ask),
            .about = std::move(about),
            .form = AnswerForm::model,
            .example = std::move(example),
            .words = {std::string(own_figures)},
            .model_kind = std::move(kind)};
}

Questions rod_questions() {
    const std::string section = "Rod";
    Questions asked{model_question("rod", "Which rod? A name of the list, or own for figures of yours.",
                                   "A rod of models/, or own", "square-8mm")};
    asked.push_back({.id = "rod-section",
                     .section = section,
                     .ask = "What shape do you see when you look at its end?",
                     .about = "An own rod's section",
                     .form = AnswerForm::word,
                     .example = "square",
                     .key = "rod.section",
                     .usual = "square",
                     .words = names_of(section_words())});
    asked.push_back(quantity(Dimension::length, "rod-width", section, "How thick is it?",
                             "How thick an own rod is", "8 mm"));
    asked.back().how = "The side of a square, a round rod's diameter, a hexagon across its flats.";
    asked.back().key = "rod.width";
    asked.push_back(quantity(Dimension::length, "rod-length", section, "How long is it, end to end?",
                             "How long an own rod is", "760 mm"));
    asked.back().key = "rod.length";
    asked.push_back(
        {.id = "rod-supports",
         .section = section,
         .ask = "Where is it carried? In the motor, and at the far bearing.",
         .about = "Where an own rod is carried, from its square end",
         .form = AnswerForm::stretch,
         .example = "20 mm, 660 mm",
         .how = "Both by a tape from the end that goes into the motor, as the rod lies in the cooker.",
         .key = "rod.supports"});
    asked.push_back({.id = "rod-usable",
                     .section = section,
                     .ask = "Between which places may meat, forks and weights sit?",
                     .about = "Where things may sit on an own rod",
                     .form = AnswerForm::stretch,
                     .example = "60 mm, 620 mm",
                     .how = "Clear of motor, walls and bearing, by the same tape.",
                     .key = "rod.usable"});
    asked.push_back({.id = "rod-material",
                     .section = section,
                     .ask = "What is it made of?",
                     .about = "What an own rod is made of",
                     .form = AnswerForm::model,
                     .example = "stainless-steel",
                     .how = "Stainless steel is the weakest of these: take it where you do not know.",
                     .key = "rod.material",
                     .usual = "stainless-steel",
                     .model_kind = "material"});
    for (std::size_t n = 1; n < asked.size(); ++n) asked[n].only_if = where_own("rod");
    return asked;
}

Questions motor_questions() {
    const std::string section = "Motor";
    Questions asked{model_question("motor", "Which motor? A name of the list, or own for figures of yours.",
                                   "A motor of models/, or own", "mains-gearmotor")};
    asked.push_back(
        {.id = "motor-kind",
         .section = section,
         .ask = "Does it slow down under load (dc), or keep its speed until it stops (synchronous)?",
         .about = "How an own motor takes a load",
         .form = AnswerForm::word,
         .example = "dc",
         .key = "motor.kind",
         .usual = "dc",
         .words = names_of(motor_kind_words())});
    asked.push_back(
        {.id = "motor-stall",
         .section = section,
         .ask = "What torque stops it?",
         .about = "The torque that stops an own motor",
         .form = AnswerForm::torque,
         .example = "1.3 kg at 200 mm",
         .how = "From its plate; or fix a bar to the shaft, let its end press on a kitchen scale, and "
                "switch on for a second, only if the maker's manual lets you stop it: type what the "
                "scale shows and how far out it presses, like \"1.3 kg at 200 mm\". Hold the motor fast "
                "and keep fingers and face away from bar and gears.",
         .key = "motor.stall_torque",
         .dimension = Dimension::torque});
    asked.push_back({.id = "motor-rated",
                     .section = section,
                     .ask = "What torque may it give for hours?",
                     .about = "The torque an own motor gives for hours",
                     .form = AnswerForm::torque,
                     .example = "25 kgf cm",
                     .how = "From its plate. Without a plate, two fifths of what stops it are taken.",
                     .key = "motor.rated_torque",
                     .may_skip = true,
                     .dimension = Dimension::torque});
    asked.push_back(quantity(Dimension::angular_speed, "motor-speed", section,
                             "How fast does it turn with nothing on it?", "How fast an own motor turns",
                             "3 rpm"));
    asked.back().how = "Count its turns over two minutes.";
    asked.back().key = "motor.speed";
    for (std::size_t n = 1; n < asked.size(); ++n) asked[n].only_if = where_own("motor");
    return asked;
}

Questions cooker_questions() {
    const std::string section = "Cooker";
    NewLoadQuestion which =
        model_question("cooker", "Which cooker? A name of the list, own for figures of yours, or none.",
                       "A cooker of models/, own, or none", "kettle-57");
    which.words.emplace_back(no_cooker);
    Questions asked{std::move(which)};
    asked.push_back({.id = "cooker-wall",
                     .section = section,
                     .ask = "What are its walls of?",
                     .about = "What an own cooker's walls are of",
                     .form = AnswerForm::word,
                     .example = "steel",
                     .key = "cooker.wall",
                     .usual = word_for(wall_words(), WallKind::steel),
                     .words = names_of(wall_words())});
    asked.push_back({.id = "cooker-walls",
                     .section = section,
                     .ask = "Where along the rod are its left and right walls, on the inside?",
                     .about = "An own cooker's end walls, from the square end",
                     .form = AnswerForm::stretch,
                     .example = "50 mm, 640 mm",
                     .how = "By a tape from the rod's square end. Skip what it does not have.",
                     .may_skip = true});
    const auto away = [&](const char* id, const char* ask, const char* about, const char* example,
                          bool may_skip) {
        asked.push_back(quantity(Dimension::length, id, section, ask, about, example));
        asked.back().may_skip = may_skip;
    };
    away("cooker-front", "How far is it from the rod's middle to the front wall?",
         "Rod's middle to an own cooker's front wall", "220 mm", true);
    away("cooker-back", "How far to the back wall?", "Rod's middle to its back wall", "220 mm", true);
    away("cooker-lid", "How far up to the lid, where it is lowest over the roast?",
         "Rod's middle up to its lid", "200 mm", true);
    away("coals-below", "How far down from the rod's middle to the top of the coals?",
         "Rod's middle down to the top of the coals", "240 mm", false);
    asked.push_back({.id = "coals-along",
                     .section = section,
                     .ask = "From where to where along the rod do the coals lie?",
                     .about = "Where along the rod the coals lie",
                     .form = AnswerForm::stretch,
                     .example = "190 mm, 490 mm"});
    away("coals-across", "How wide is the bed of coals, from front to back?",
         "How wide the coals lie, front to back", "300 mm", false);
    asked.back().how = "Or the rows of burners, of a gas grill.";
    for (std::size_t n = 1; n < asked.size(); ++n) asked[n].only_if = where_own("cooker");
    return asked;
}

Questions fork_questions() {
    const std::string section = "Forks";
    NewLoadQuestion which =
        model_question("fork", "Which forks? A name of the list, or own for figures of yours.",
                       "Forks of models/, or own", "two-tine");
    which.section = section;
    which.usual = "two-tine";
    Questions asked{std::move(which)};
    const auto own = [&](Dimension dimension, const char* id, const char* ask, const char* about,
                         const char* example) {
        asked.push_back(quantity(dimension, id, section, ask, about, example));
        asked.back().only_if = where_own("fork");
    };
    asked.push_back({.id = "fork-tines",
                     .section = section,
                     .ask = "How many tines has each?",
                     .about = "How many tines an own fork has",
                     .form = AnswerForm::count,
                     .example = "2",
                     .usual = "2",
                     .most = 12,
                     .only_if = where_own("fork")});
    own(Dimension::length, "fork-radius", "How far is a tine from the rod's middle?",
        "Rod's middle to the middle of a tine", "32 mm");
    own(Dimension::length, "fork-length", "How long is a tine, from the hub to its tip?",
        "How long a tine is", "95 mm");
    own(Dimension::length, "fork-thickness", "How thick is a tine?", "How thick a tine is", "5 mm");
    own(Dimension::mass, "fork-mass", "What does one fork weigh?", "What an own fork weighs", "160 g");
    asked.push_back({.id = "forks",
                     .section = section,
                     .ask = "How many of them?",
                     .about = "How many forks there are",
                     .form = AnswerForm::count,
                     .example = "2",
                     .how = "One at each end of the roast holds best.",
                     .usual = "2",
                     .most = 4});
    return asked;
}

Questions weight_questions() {
    const std::string section = "Counterweight";
    Questions asked{quantity(Dimension::mass, "weight", section, "What does your counterweight weigh?",
                             "A counterweight that you have", "300 g")};
    asked.back().may_skip = true;
    asked.push_back({.id = "weight-radius",
                     .section = section,
                     .ask = "How near to the rod's middle can it be set, and how far out?",
                     .about = "How near and how far out it can be set",
                     .form = AnswerForm::stretch,
                     .example = "40 mm, 110 mm",
                     .only_if = [](const NewLoadAnswers& answers) { return answered(answers, "weight"); }});
    asked.push_back(quantity(Dimension::length, "weight-diameter", section, "How wide is it?",
                             "How wide it is", "40 mm"));
    asked.back().only_if = [](const NewLoadAnswers& answers) { return answered(answers, "weight"); };
    return asked;
}

Questions cook_questions() {
    const std::string section = "Cook";
    const auto cooks = [](const NewLoadAnswers& answers) { return !is(answers, "cooker", no_cooker); };
    Questions asked;
    asked.push_back({.id = "fuel",
                     .section = section,
                     .ask = "What burns?",
                     .about = "What burns",
                     .form = AnswerForm::word,
                     .example = "briquettes",
                     .key = "cook.fuel",
                     .usual = names_of(fuel_words()).front(),
                     .words = names_of(fuel_words()),
                     .only_if = cooks});
    asked.push_back(quantity(Dimension::temperature, "temperature", section,
                             "How hot is the cooker to be, by its thermometer?",
                             "How hot the cooker is to be", "150 degC"));
    asked.back().usual = "150 degC";
    asked.back().usual_beside_pounds = "300 degF";
    asked.back().key = "cook.cooker_temperature";
    asked.push_back({.id = "serve",
                     .section = section,
                     .ask = "At what time do you want to serve it?",
                     .about = "When it is to be on the table",
                     .form = AnswerForm::time_of_day,
                     .example = "18:30",
                     .key = "cook.serve",
                     .may_skip = true,
                     .only_if = cooks});
    asked[1].only_if = cooks;
    asked[1].only_where_heat_is_held = true;
    return asked;
}

}  // namespace

bool roasts_scan(const NewLoadAnswers& answers) {
    const auto roast = answers.find("roast");
    if (roast == answers.end()) return false;
    const std::vector<std::string> names = body::shape_names();
    return std::find(names.begin(), names.end(), roast->second) == names.end();
}

bool roasts_bird(const NewLoadAnswers& answers) {
    const auto roast = answers.find("roast");
    return roast != answers.end() && body::is_bird(roast->second);
}

bool weighs_in_pounds(const NewLoadAnswers& answers) {
    const auto mass = answers.find("mass");
    if (mass == answers.end()) return false;
    constexpr std::array<std::string_view, 4> words{"lb", "oz", "pound", "ounce"};
    return std::any_of(words.begin(), words.end(),
                       [&](std::string_view word) { return mass->second.find(word) != std::string::npos; });
}

const std::vector<NewLoadQuestion>& new_load_questions() {
    static const Questions all = [] {
        Questions questions;
        for (Questions part : {roast_questions(), tape_questions(), rod_questions(), motor_questions(),
                               cooker_questions(), fork_questions(), weight_questions(), cook_questions()}) {
            for (NewLoadQuestion& question : part) questions.push_back(std::move(question));
        }
        return questions;
    }();
    return all;
}

bool NewLoadQuestion::asked_after(const NewLoadAnswers& answers, const std::filesystem::path& models) const {
    if (only_if && !only_if(answers)) return false;
    return !only_where_heat_is_held || !burns_in_the_open(cooker_of(answers, models));
}

const std::string& NewLoadQuestion::usual_after(const NewLoadAnswers& answers) const {
    return !usual_beside_pounds.empty() && weighs_in_pounds(answers) ? usual_beside_pounds : usual;
}

NewLoadAnswers with_usual_answers(const NewLoadAnswers& given, const std::filesystem::path& models) {
    NewLoadAnswers answers;
    for (const NewLoadQuestion& question : new_load_questions()) {
        if (!question.asked_after(answers, models)) continue;
        if (const auto answer = given.find(question.id); answer != given.end()) {
            answers[question.id] = answer->second;
        } else if (!question.usual.empty()) {
            answers[question.id] = question.usual_after(answers);
        }
    }
    return answers;
}

}  // namespace evenspit
