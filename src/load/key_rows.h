// SPDX-License-Identifier: MIT
// How the rows of a KeyTable are written; only for the sources that hold them.
#pragma once

#include <string_view>
#include <utility>

#include "load/load_keys.h"

namespace evenspit::key_rows {

/// A key that is neither a quantity nor one of a few words.
inline LoadKey plain(std::string_view name, KeyForm form, std::string_view example,
                     std::string_view meaning) {
    return {.name = name, .form = form, .meaning = meaning, .example = example};
}
inline LoadKey flag(std::string_view name, std::string_view example, std::string_view meaning) {
    return plain(name, KeyForm::flag, example, meaning);
}
inline LoadKey quantity(std::string_view name, Dimension dimension, Range range, std::string_view example,
                        std::string_view meaning) {
    LoadKey key = plain(name, KeyForm::quantity, example, meaning);
    key.dimension = dimension;
    key.range = range;
    return key;
}
inline LoadKey bare_number(std::string_view name, Range range, std::string_view example,
                           std::string_view meaning) {
    LoadKey key = plain(name, KeyForm::number, example, meaning);
    key.range = range;
    return key;
}
/// A whole number, from 1.
inline LoadKey whole_number(std::string_view name, std::string_view example, std::string_view meaning) {
    return plain(name, KeyForm::count, example, meaning);
}
/// A list of so many lengths.
inline LoadKey lengths(std::string_view name, std::size_t count, std::string_view example,
                       std::string_view meaning) {
    LoadKey key = plain(name, KeyForm::quantities, example, meaning);
    key.dimension = Dimension::length;
    key.count = count;
    return key;
}
inline LoadKey word(std::string_view name, std::vector<std::string> words, std::string_view example,
                    std::string_view meaning) {
    LoadKey key = plain(name, KeyForm::word, example, meaning);
    key.words = std::move(words);
    return key;
}

inline LoadKey needed(LoadKey key) {
    key.need = Need::required;
    return key;
}
inline LoadKey usually(Usual usual, LoadKey key) {
    key.usual = std::move(usual);
    return key;
}
/// \param figures in SI, in the place of each {} of the text
inline LoadKey in_words(std::string_view text, LoadKey key,
                        std::vector<std::pair<double, Dimension>> figures = {}) {
    return usually(InWords{std::string(text), std::move(figures)}, std::move(key));
}
inline LoadKey only_with(std::string_view what, LoadKey key) {
    key.only_with = what;
    return key;
}

// Each in the source of its name.
std::vector<KeyTable> rig_tables();
std::vector<KeyTable> cooker_tables();
std::vector<KeyTable> item_tables();
std::vector<KeyTable> cook_tables();
std::vector<KeyTable> spread_tables();
std::vector<KeyTable> model_tables();

}  // namespace evenspit::key_rows
