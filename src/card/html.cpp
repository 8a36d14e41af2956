// SPDX-License-Identifier: MIT
#include "card/html.h"

#include <cstdint>

#include <fmt/format.h>

#include "card/page_parts.h"
#include "report/picture.h"
#include "report/report.h"

namespace evenspit::card {
namespace {

/// Grey as two hexadecimal digits, thrice.
std::string colour_of(double grey) {
    const auto level = static_cast<int>(255 * grey + 0.5);
    return fmt::format("#{0:02x}{0:02x}{0:02x}", level);
}

struct SvgOfShape {
    std::string operator()(const SheetPath& path) const {
        std::string d;
        for (const std::vector<Vec2>& ring : path.rings) {
            char command = 'M';
            for (const Vec2& p : ring) {
                d += fmt::format("{}{:.1f} {:.1f}", command, p.x(), p.y());
                command = 'L';
            }
            if (path.closed) d += 'Z';
        }
        std::string style = path.fill_grey
                                ? fmt::format("fill=\"{}\" fill-rule=\"evenodd\"", colour_of(*path.fill_grey))
                                : std::string("fill=\"none\"");
        if (path.stroke) {
            style += fmt::format(" stroke=\"{}\" stroke-width=\"{:g}\" stroke-linejoin=\"round\"",
                                 colour_of(path.stroke->grey), path.stroke->width_pt);
            if (path.stroke->dashed) style += " stroke-dasharray=\"3 2.2\"";
        }
        return fmt::format("<path d=\"{}\" {}/>\n", d, style);
    }
    std::string operator()(const SheetText& text) const {
        // Other letters than those that were measured are held where they belong.
        const std::string_view anchor = text.anchor == 0 ? "start" : text.anchor == 1 ? "end" : "middle";
        return fmt::format(
            "<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\" font-size=\"{:g}\"{} fill=\"{}\">{}</text>\n",
            text.room.x + text.anchor * text.room.width, text.line_y(), anchor, text.size_pt,
            text.bold ? " font-weight=\"bold\"" : "", colour_of(text.grey), html_escaped(text.text));
    }
};

/// FNV-1a: tells cards apart, so that ticks of one do not show on another.
std::string mark_of(const Card& card) {
    std::uint64_t hash = 14695981039346656037ULL;
    const auto add = [&hash](std::string_view text) {
        for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
        hash = (hash ^ 0xFFU) * 1099511628211ULL;
    };
    add(card.title);
    for (const CardSection& section : card.sections) {
        for (const CardStep& step : section.steps) {
            add(step.when);
            add(step.what);
        }
    }
    return fmt::format("{:016x}", hash);
}

class HtmlPage {
  public:
    HtmlPage(const Card& card, const PagePictures& pictures) : card_(card), pictures_(pictures) {}

    std::string written() {
        head();
        timer();
        pictures();
        out_ += "<div class=\"sections\">\n";
        for (std::size_t s = 0; s < card_.sections.size(); ++s) section(card_.sections[s], s);
        out_ += "</div>\n";
        model();
        put("<footer><button type=\"button\" id=\"clear\">Clear all ticks</button> <span>{}</span> "
            "<span>{}</span></footer>\n",
            html_escaped(card_.file), html_escaped(card_.made_by));
        out_ += "<script>\n";
        out_ += page_script;
        out_ += "</script>\n</body>\n</html>\n";
        return std::move(out_);
    }

  private:
    template <typename... Values>
    void put(fmt::format_string<const Values&...> format, const Values&... values) {
        fmt::format_to(std::back_inserter(out_), format, values...);
    }

    void head() {
        put("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
            "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
            // Nothing is asked of the network, whatever a text of the load file may hold.
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
            "style-src 'unsafe-inline'; script-src 'unsafe-inline'; img-src data:\">\n"
            "<title>{}</title>\n<style>\n",
            html_escaped(card_.title));
        out_ += page_style;
        put("</style>\n</head>\n<body data-card=\"{}\" data-clock=\"{}\">\n", mark_of(card_),
            card_.by_clock ? 1 : 0);
        const std::string mark(level_mark(card_.verdict));
        put("<header>\n<h1>{}</h1>\n<p class=\"verdict\"><strong class=\"mark {}\">{}</strong> "
            "{}</p>\n</header>\n",
            html_escaped(card_.title), mark, mark, html_escaped(card_.verdict_words));
    }

    [[nodiscard]] bool timed() const {
        for (const CardSection& section : card_.sections) {
            for (const CardStep& step : section.steps) {
                if (step.at_s) return true;
            }
        }
        return false;
    }

    void timer() {
        if (!timed()) return;
        out_ += "<div id=\"timer\" hidden>\n<p id=\"next\" role=\"timer\"></p>\n";
        out_ += card_.by_clock
                    ? "<p class=\"start\"><label>Served on <input type=\"date\" id=\"day\"></label></p>\n"
                    : "<p class=\"start\"><button type=\"button\" id=\"start\">It goes on now</button></p>\n";
        out_ += "</div>\n";
    }

    void pictures() {
        out_ += "<div class=\"pictures\">\n";
        out_ += svg_element(pictures_.side_wide, "side wide", "The load on its rod, from the front");
        out_ += svg_element(pictures_.side_narrow, "side narrow", "The load on its rod, from the front");
        out_ += "<div class=\"dial\">\n";
        out_ += svg_element(pictures_.dial, "face", "The load from the rod's point, on a clock face");
        out_ += "<div><p><strong>From the rod's point, at the start</strong></p>\n<ul>\n";
        for (const std::string& words : card_.dial) put("<li>{}</li>\n", html_escaped(words));
        out_ += "</ul></div>\n</div>\n</div>\n";
    }

    void section(const CardSection& section, std::size_t number) {
        out_ += "<section>\n";
        if (section.steps.empty()) {
            put("<h2>{}</h2>\n", html_escaped(section.heading));
        } else {
            put("<h2>{}. {}</h2>\n", ++tasks_, html_escaped(section.heading));
        }
        for (std::size_t n = 0; n < section.steps.size(); ++n) step(section.steps[n], number, n);
        if (!section.blanks.empty()) out_ += "<p class=\"blanks\">\n";
        for (const CardBlank& blank : section.blanks) {
            put("<label>{} <input type=\"text\" inputmode=\"decimal\" size=\"5\" id=\"b-{}\"> {}</label>\n",
                html_escaped(blank.before), html_escaped(blank.key), html_escaped(blank.after));
        }
        if (!section.blanks.empty()) out_ += "</p>\n";
        if (!section.notes.empty()) out_ += "<ul>\n";
        for (const std::string& note : section.notes) put("<li>{}</li>\n", html_escaped(note));
        if (!section.notes.empty()) out_ += "</ul>\n";
        out_ += "</section>\n";
    }

    void step(const CardStep& step, std::size_t section, std::size_t number) {
        const std::string at = step.at_s ? fmt::format(" data-at=\"{:.0f}\"", *step.at_s) : std::string();
        const std::string when =
            step.when.empty() ? std::string() : fmt::format("<strong>{}</strong> ", html_escaped(step.when));
        put("<label class=\"step\"{}><input type=\"checkbox\" id=\"s{}-{}\"><span>{}{}</span></label>\n", at,
            section, number, when, html_escaped(step.what));
    }

    void model() {
        const ModelPicture& model = pictures_.model;
        if (model.corners == 0) return;
        out_ += "<section class=\"model\">\n<h2>Turn it round</h2>\n";
        if (!pictures_.still_png.empty()) {
            put("<img id=\"still\" alt=\"The load on its rod, with motor, bearings and coals\" "
                "src=\"data:image/png;base64,{}\">\n",
                base64(pictures_.still_png));
        }
        out_ +=
            "<canvas id=\"model\" tabindex=\"0\" hidden aria-label=\"The load in three dimensions. Drag, or "
            "use "
            "the arrow keys, to look from another side.\"></canvas>\n"
            "<p id=\"turning\" hidden><label>Turn of the rod <input type=\"range\" id=\"turn\" min=\"0\" "
            "max=\"360\" "
            "value=\"0\"></label></p>\n";
        put("<script type=\"text/plain\" id=\"mesh\" data-corners=\"{}\" data-triangles=\"{}\" "
            "data-scale=\"{:.9g}\" "
            "data-middle=\"{:.6g},{:.6g},{:.6g}\" data-reach=\"{:.6g}\">{}</script>\n</section>\n",
            model.corners, model.triangles, model.scale_m, model.middle.x(), model.middle.y(),
            model.middle.z(), model.reach_m, base64(model.bytes));
    }

    const Card& card_;
    const PagePictures& pictures_;
    std::string out_;
    int tasks_ = 0;
};

}  // namespace

std::string html_escaped(std::string_view text) {
    std::string out = markup_escaped(text);
    for (std::size_t at = 0; (at = out.find('\'', at)) != std::string::npos;) out.replace(at, 1, "&#39;");
    return out;
}

std::string svg_element(const Sheet& sheet, std::string_view css_class, std::string_view label) {
    std::string out = fmt::format(
        "<svg class=\"{}\" viewBox=\"0 0 {:g} {:.1f}\" role=\"img\" aria-label=\"{}\" "
        "font-family=\"DejaVu Sans, Verdana, sans-serif\">\n",
        html_escaped(css_class), sheet.width_pt, sheet.height_pt, html_escaped(label));
    for (const SheetShape& shape : sheet.shapes) out += std::visit(SvgOfShape{}, shape);
    return out + "</svg>\n";
}

std::string html_of(const Card& card, const PagePictures& pictures) {
    return HtmlPage(card, pictures).written();
}

}  // namespace evenspit::card
