// SPDX-License-Identifier: MIT
// What tests ask of an SVG document.
#pragma once

#include <regex>
#include <string>
#include <utility>
#include <vector>

#include "report/picture.h"

namespace evenspit::test {

/// Whether each element that is opened is closed, in order; attributes hold no bare < or &.
inline bool is_well_formed(const std::string& xml) {
    std::vector<std::string> open;
    for (std::size_t at = 0; (at = xml.find('<', at)) != std::string::npos;) {
        const std::size_t end = xml.find('>', at);
        if (end == std::string::npos) return false;
        const std::string tag = xml.substr(at + 1, end - at - 1);
        if (tag.find('<') != std::string::npos) return false;
        const std::string name = tag.substr(0, tag.find_first_of(" /", 1));
        if (tag.front() == '/') {
            if (open.empty() || "/" + open.back() != tag) return false;
            open.pop_back();
        } else if (tag.back() != '/') {
            open.push_back(name);
        }
        at = end;
    }
    for (std::size_t at = 0; (at = xml.find('&', at)) != std::string::npos; ++at) {
        const std::string entity = xml.substr(at, xml.find(';', at) - at);
        if (entity != "&amp" && entity != "&lt" && entity != "&gt" && entity != "&quot") return false;
    }
    return open.empty();
}

inline std::string unescaped(std::string text) {
    for (const auto& [entity, letter] :
         {std::pair{"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}, {"&amp;", "&"}}) {
        for (std::size_t at = 0; (at = text.find(entity, at)) != std::string::npos; ++at)
            text.replace(at, std::string(entity).size(), letter);
    }
    return text;
}

/// The texts of a document with the room they take, as far as that can be told without a font.
struct PlacedText {
    std::string text;
    Frame frame;
};
inline std::vector<PlacedText> placed_texts(const std::string& svg) {
    static const std::regex element(
        "<text x=\"([-0-9.]+)\" y=\"([-0-9.]+)\" text-anchor=\"(start|middle|end)\" font-size=\"([0-9.]+)\" "
        "fill=\"[^\"]*\">([^<]*)</text>");
    std::vector<PlacedText> texts;
    for (std::sregex_iterator at(svg.begin(), svg.end(), element), end; at != end; ++at) {
        const std::smatch& m = *at;
        const double size = std::stod(m[4]);
        const std::string text = unescaped(m[5]);
        const Vec2 room = svg_letters(text, size > 12 ? Lettering::title : Lettering::small);
        const double anchor = m[3] == "start" ? 0 : m[3] == "end" ? 1 : 0.5;
        texts.push_back(
            {text,
             {std::stod(m[1]) - anchor * room.x(), std::stod(m[2]) - 0.8 * room.y(), room.x(), room.y()}});
    }
    return texts;
}

/// Two texts that lie over one another, or one that leaves the document; empty if there are none.
inline std::string lost_words(const std::string& svg, double width) {
    const std::vector<PlacedText> texts = placed_texts(svg);
    for (std::size_t i = 0; i < texts.size(); ++i) {
        if (texts[i].frame.x < -0.5 || texts[i].frame.right() > width + 0.5)
            return texts[i].text + " leaves the sheet";
        for (std::size_t j = i + 1; j < texts.size(); ++j) {
            Frame inner = texts[j].frame;
            // Figures are told to a tenth of a pixel.
            inner.x += 0.2;
            inner.y += 0.2;
            inner.width -= 0.4;
            inner.height -= 0.4;
            if (texts[i].frame.overlaps(inner)) return texts[i].text + " | " + texts[j].text;
        }
    }
    return "";
}

}  // namespace evenspit::test
