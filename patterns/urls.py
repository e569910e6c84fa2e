"""Pages of the patterns room at the desk. Mounted at /desk/patterns/."""

from django.urls import URLPattern, URLResolver, path

from patterns.views import (
    charts,
    checks,
    facts,
    form,
    incoming,
    instructions,
    listing,
    measures,
    photos,
    publishing,
    review,
    reviews,
    written,
)

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
    path("<slug:slug>/chart/", charts.chart, name="chart"),
    path("<slug:slug>/chart.svg", charts.chart_svg, name="chart_svg"),
    path("<slug:slug>/reviews/", reviews.reviews, name="reviews"),
    path("<slug:slug>/reviews/invite/", reviews.invite, name="review_invite"),
    path("<slug:slug>/reviews/close/", reviews.close_round, name="reviews_close"),
    path("<slug:slug>/reviews/numbers.csv", reviews.numbers, name="review_numbers"),
    path("<slug:slug>/reviews/<int:review_id>/", reviews.person, name="review_person"),
    path("<slug:slug>/reviews/<int:review_id>/report/", reviews.report, name="review_report"),
    path("<slug:slug>/reviews/remark/<int:remark_id>/", reviews.remark, name="review_remark"),
    path("<slug:slug>/form/", form.form, name="form"),
    path("<slug:slug>/form/state/", form.form_state, name="form_state"),
    path("<slug:slug>/form/stop/", form.form_stop, name="form_stop"),
    path("<slug:slug>/form/turning.json", form.form_data, name="form_data"),
    path("<slug:slug>/form/picture.png", form.form_still, name="form_still"),
    path("<slug:slug>/form/shape.glb", form.form_glb, name="form_glb"),
    path("<slug:slug>/measures/", measures.measures, name="measures"),
    path("<slug:slug>/measures/take/", measures.measures_take, name="measures_take"),
    path("<slug:slug>/text/", written.text, name="text"),
    path("<slug:slug>/text.txt", written.text_file, name="text_file"),
    path("<slug:slug>/check/", instructions.check_fragment, name="check"),
    path("<slug:slug>/facts/", facts.edit_facts, name="facts"),
    path("<slug:slug>/materials/", facts.edit_materials, name="materials"),
    path("<slug:slug>/photos/", photos.photos, name="photos"),
    path("<slug:slug>/photos/<int:photo_id>/", photos.photo_change, name="photo_change"),
    path("<slug:slug>/preview/", publishing.preview, name="preview"),
    path("<slug:slug>/publish/", publishing.publish, name="publish"),
    path("<slug:slug>/unpublish/", publishing.unpublish, name="unpublish"),
]
