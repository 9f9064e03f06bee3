"""What is made of a judged rig: calculation sheet, due dates, comparison, overview, commissioning file."""
