// SPDX-License-Identifier: MIT
#include "app/viewer/load_document.h"

#include <exception>
#include <utility>

#include "analysis/placed.h"
#include "app/viewer/scan_load.h"
#include "app/viewer/storage.h"
#include "geometry/mesh_io.h"
#include "geometry/scan_io.h"
#include "geometry/solid_check.h"
#include "load/load_file.h"
#include "load/new_load.h"
#include "plan/first_load.h"
#include "scan/scan_unit.h"
#include "units/error.h"

namespace evenspit::viewer {
namespace {

namespace fs = std::filesystem;

void work_out(LoadDocument& document, JobControl& control) {
    control.step(-1, "working it out");
    try {
        std::shared_ptr<const cook::CookCourse> course;
        if (can_roast(document.assembly)) {
            control.step(-1, "roasting it coarsely");
            cook::CookedLoad cooked = cook::cooked_load(document.assembly, control.token());
            document.assembly = std::move(cooked.load);
            course = std::make_shared<const cook::CookCourse>(std::move(*cooked.course));
        }
        document.answer = worked_out(document.assembly, control.token(), std::move(course));
    } catch (const std::exception&) {
        // Asked again on the table, where the reason is told.
    }
    control.step(1, "done");
}

/// Whether a file holds a mesh that is a body already. What cannot be read as a mesh may still be a cloud of
/// points.
bool is_closed_mesh(const fs::path& file) {
    if (!is_mesh_name(file)) return false;
    try {
        return check_solid(read_mesh(file).mesh).ok();
    } catch (const InputError&) {
        return false;
    }
}

/// What there is to ask about a scan; nothing where its format tells the unit.
std::optional<ScanQuestion> question_about(const fs::path& file) {
    const ScanFile scan = read_scan_file(file);
    if (scan.metres_per_unit || scan.mesh.vertices.empty()) return std::nullopt;
    Box3 box;
    for (const Vec3& vertex : scan.mesh.vertices) box.extend(vertex);
    const Vec3 size = box.sizes();
    return ScanQuestion{file, size, scan::likely_unit(size.maxCoeff()), !is_closed_mesh(file)};
}

}  // namespace

LoadDocument read_document(const fs::path& file, const fs::path& models, JobControl& control) {
    control.step(-1, "reading the load and making its bodies");
    const std::optional<std::string> text = file_text(file);
    // Where there is nothing to read, the reader has the right words for it.
    Assembly assembly = text ? read_load_text(*text, file, models) : read_load(file, models);
    LoadDocument document{std::move(assembly), text.value_or(""), file, file, {}, {}};
    work_out(document, control);
    return document;
}

LoadDocument read_new_document(const std::string& text, const fs::path& models, JobControl& control) {
    const fs::path stands_in = fs::current_path() / new_load_name;
    LoadDocument document{read_load_text(text, stands_in, models), text, {}, stands_in, {}, {}};
    work_out(document, control);
    return document;
}

LoadDocument document_of_answers(const NewLoadAnswers& answers, const fs::path& models, JobControl& control) {
    const fs::path folder = fs::current_path(), stands_in = folder / new_load_name;
    try {
        plan::FirstLoad made = plan::first_load(
            answers, stands_in, folder, models, 0,
            [&control](std::string_view what) { control.step(-1, std::string(what)); }, control.token());
        LoadDocument document{std::move(made.load), std::move(made.text), {}, stands_in, {}, {}};
        work_out(document, control);
        return document;
    } catch (const InputError& error) {
        throw by_question(error, answers);
    }
}

LoadDocument document_of_scan(const fs::path& file, const fs::path& models, JobControl& control,
                              const std::optional<ScanTold>& told, const fs::path& folder) {
    control.step(-1, "reading the scan");
    if (!told) {
        if (std::optional<ScanQuestion> question = question_about(file)) {
            LoadDocument asked;
            asked.question = std::move(question);
            return asked;
        }
    }
    ScanForLoad scan{.file = file};
    if (told) scan.mass_kg = told->mass_kg;
    std::string words;
    if (is_closed_mesh(file)) {
        if (told) scan.unit = told->unit;
    } else {
        const CleanedScan cleaned = clean_scan(
            file, [&control](std::string_view stage) { control.step(-1, std::string(stage)); }, told, folder);
        scan.file = cleaned.body;
        scan.own_frame = true;
        words = cleaned.words;
    }
    const fs::path stands_in = file.parent_path() / new_load_name;
    control.step(-1, "making a load of it");
    // First without forks, to see how long it is.
    const Assembly bare = read_load_text(load_for_scan(scan), stands_in, models);
    const std::vector<ItemOnRod> placed = items_on_rod(bare);
    scan.from_m = placed.front().from();
    scan.to_m = placed.front().to();
    control.step(-1, "making a load of it");
    const std::string text = load_for_scan(scan);
    LoadDocument document{read_load_text(text, stands_in, models), text, {}, stands_in, words, {}};
    work_out(document, control);
    return document;
}

}  // namespace evenspit::viewer
