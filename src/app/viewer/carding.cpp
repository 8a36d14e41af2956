// SPDX-License-Identifier: MIT
#include "app/viewer/carding.h"

#include <string_view>
#include <utility>

#include "card/card_file.h"
#include "files/whole_file.h"
#include "load/load_file.h"

namespace evenspit::viewer {

void Carding::seek(CardLoad load, UnitSystem units, std::filesystem::path file, std::uint64_t revision) {
    begin(revision, [load = std::move(load), units, file = std::move(file)](JobControl& control) {
        // Before minutes of work: a place that takes no file is told at once.
        refuse_unwritable(file);
        control.step(-1, "reading the load");
        const Assembly written = read_load_text(load.text, load.stands_in, load.models);
        const card::CardFile made = card::card_file(
            written, {.format = card::card_format(file).value(),
                      .units = units,
                      .stage = [&control](std::string_view stage) { control.step(-1, std::string(stage)); },
                      .cooking =
                          [&control](double done_s, double of_s) {
                              control.step(of_s > 0 ? done_s / of_s : -1, "cooking it for its times");
                          },
                      .stop = control.token()});
        write_whole_file(file, made.bytes);
        return file;
    });
}

}  // namespace evenspit::viewer
