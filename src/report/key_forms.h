// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

#include "load/load_keys.h"

namespace evenspit {

/// What results call a form: "length_unit".
constexpr std::string_view form_name(KeyForm form) {
    switch (form) {
        case KeyForm::text:
            return "text";
        case KeyForm::word:
            return "word";
        case KeyForm::words:
            return "words";
        case KeyForm::name:
            return "name";
        case KeyForm::flag:
            return "flag";
        case KeyForm::number:
            return "number";
        case KeyForm::quantity:
            return "quantity";
        case KeyForm::quantities:
            return "quantities";
        case KeyForm::direction:
            return "direction";
        case KeyForm::count:
            return "count";
        case KeyForm::counts:
            return "counts";
        case KeyForm::marks:
            return "marks";
        case KeyForm::profile:
            return "profile";
        case KeyForm::time_of_day:
            return "time_of_day";
        case KeyForm::length_unit:
            return "length_unit";
        case KeyForm::file:
            return "file";
        case KeyForm::files:
            return "files";
        case KeyForm::table:
            return "table";
        case KeyForm::tables:
            return "tables";
    }
    return "";
}

}  // namespace evenspit
