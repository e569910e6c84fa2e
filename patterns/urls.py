"""Pages of the patterns room at the desk. Mounted at /desk/patterns/."""

from django.urls import URLPattern, URLResolver, path

from patterns.views import checks, facts, incoming, instructions, listing, photos, publishing, review

app_name = "patterns"

urlpatterns: list[URLPattern | URLResolver] = [
    path("", listing.pattern_list, name="list"),
    path("new/", listing.pattern_new, name="new"),
    path("import/", incoming.import_old, name="import_old"),
    path("checks/", checks.check_list, name="checks"),
    path("checks/<slug:check_slug>/", checks.check_page, name="check_page"),
    path("<slug:slug>/", instructions.edit, name="edit"),
    path("<slug:slug>/sheet/", review.sheet, name="sheet"),
    path("<slug:slug>/sheet.pdf", review.sheet_pdf, name="sheet_pdf"),
    path("<slug:slug>/chart/", review.chart, name="chart"),
    path("<slug:slug>/check/", instructions.check_fragment, name="check"),
    path("<slug:slug>/facts/", facts.edit_facts, name="facts"),
    path("<slug:slug>/materials/", facts.edit_materials, name="materials"),
    path("<slug:slug>/photos/", photos.photos, name="photos"),
    path("<slug:slug>/photos/<int:photo_id>/", photos.photo_change, name="photo_change"),
    path("<slug:slug>/preview/", publishing.preview, name="preview"),
    path("<slug:slug>/publish/", publishing.publish, name="publish"),
    path("<slug:slug>/unpublish/", publishing.unpublish, name="unpublish"),
]
