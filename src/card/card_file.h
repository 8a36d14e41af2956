// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <stop_token>
#include <string>
#include <string_view>

#include "analysis/chance.h"
#include "card/card.h"
#include "cook/cook_course.h"

namespace evenspit::card {

enum class CardFormat { pdf, svg, html };

/// By the ending of a file's name; nothing for another.
std::optional<CardFormat> card_format(const std::filesystem::path& file);

/// How a card is to be made.
struct CardWish {
    CardFormat format = CardFormat::pdf;
    UnitSystem units = UnitSystem::metric;  ///< with the paper: A4, or Letter
    int mountings = usual_mountings;
    std::function<void(std::string_view)> stage{};  ///< told what is being done, as it begins
    RoastProgress cooking{};                        ///< told how far the cook is
    std::stop_token stop{};
};

/// A card, and the file that it stands in.
struct CardFile {
    Card card;
    std::string bytes;
};

/// Cooks a load where enough is told of it, judges it, and draws its card: all that `card` does.
///
/// \param written the load as its file has it
/// \throws Stopped once asked to
/// \throws std::runtime_error if cairo cannot draw it
CardFile card_file(const Assembly& written, const CardWish& wish);

}  // namespace evenspit::card
