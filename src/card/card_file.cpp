// SPDX-License-Identifier: MIT
#include "card/card_file.h"

#include <utility>

#include "card/card_page.h"
#include "card/card_sheet.h"
#include "card/paper.h"
#include "units/stopped.h"

namespace evenspit::card {
namespace {

/// As `check` cooks it, so that both say the same, and with what hands have to do on the way.
std::optional<cook::CookCourse> cook_of(const Assembly& assembly, const CardWish& wish) {
    if (!can_roast(assembly)) return std::nullopt;
    cook::CookOptions options;
    options.roast = coarse_roast();
    return cook::cook_course(assembly, options, wish.cooking, wish.stop);
}

std::optional<cook::Schedule> schedule_of(const Assembly& assembly, const cook::CookCourse& course) {
    const std::optional<cook::ScheduleNeed> need = cook::schedule_need(assembly, course);
    return need ? std::optional(cook::schedule(*need)) : std::nullopt;
}

std::string drawn_as(CardFormat format, const Card& card, const DrawnLoad& drawn) {
    const Letters letters;
    if (format == CardFormat::html) return card_page(card, drawn, letters);
    const Paper& paper = drawn.units == UnitSystem::us ? letter : a4;
    const Sheet sheet = lay_out(card, drawn, paper, letters.measure());
    return format == CardFormat::pdf ? pdf_of(sheet, letters, {.title = card.title, .made_by = card.made_by})
                                     : svg_of(sheet, letters);
}

}  // namespace

std::optional<CardFormat> card_format(const std::filesystem::path& file) {
    const std::string ending = file.extension().string();
    if (ending == ".pdf") return CardFormat::pdf;
    if (ending == ".svg") return CardFormat::svg;
    if (ending == ".html") return CardFormat::html;
    return std::nullopt;
}

CardFile card_file(const Assembly& written, const CardWish& wish) {
    const auto tell = [&wish](std::string_view stage) {
        if (wish.stage) wish.stage(stage);
    };
    const std::optional<cook::CookCourse> course = cook_of(written, wish);
    const std::optional<cook::Schedule> schedule = course ? schedule_of(written, *course) : std::nullopt;
    tell("mounting it again and again");
    const cook::JudgedLoad judged = course ? cook::judged_load(written, *course, wish.mountings, wish.stop)
                                           : cook::judged_load(written, wish.mountings, wish.stop);
    stop_if_asked(wish.stop);
    tell("drawing the card");
    const DrawnLoad drawn = drawn_load(judged.load, judged.analysis, wish.units);
    Card card = make_card({judged.load, judged.analysis, schedule, wish.units});
    std::string bytes = drawn_as(wish.format, card, drawn);
    return {std::move(card), std::move(bytes)};
}

}  // namespace evenspit::card
